// Makes elements of the page what the program sends, without losing what is open, focused or being typed.

/** @typedef {HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement} Control */

const CONTROLS = "input, textarea, select";

/**
 * Let what is in a place become what stands in HTML of the program's; words in it are escaped there.
 * @param {HTMLElement} place
 * @param {string} html
 */
export function become(place, html) {
  const wanted = new DOMParser().parseFromString(html, "text/html").body;
  follow(place, wanted);
  return wanted;
}

/**
 * Let what is in an element become what is in another, which stays as it is.
 * @param {Element} old
 * @param {Element} wanted
 */
export function follow(old, wanted) {
  const left = [...old.childNodes];
  const pairs = [...wanted.childNodes].map((node) => {
    const kept = left.find((one) => alike(one, node));
    if (kept) left.splice(left.indexOf(kept), 1);
    return { node, kept };
  });
  for (const node of left) node.remove(); // first: of folds with one name only one can be open
  let before = old.firstChild;
  for (const { node, kept } of pairs) {
    if (!kept) {
      old.insertBefore(document.importNode(node, true), before);
      continue;
    }
    if (kept === before) before = kept.nextSibling;
    else old.insertBefore(kept, before);
    if (kept instanceof Element && node instanceof Element) update(kept, node);
    else if (kept.nodeValue !== node.nodeValue) kept.nodeValue = node.nodeValue;
  }
}

/**
 * Whether an element can become another: of one kind, and of one name where they have names.
 * @typedef {Node & { id?: string, dataset?: DOMStringMap }} Named
 * @param {Named} one
 * @param {Named} other
 */
const alike = (one, other) => one.nodeName === other.nodeName && one.id === other.id && one.dataset?.path === other.dataset?.path;

/**
 * @param {Element} old
 * @param {Element} wanted
 */
function update(old, wanted) {
  if (old.isEqualNode(wanted)) { // most of all forms, after most changes; what stands in a control is not told by it
    const controls = wanted.querySelectorAll(CONTROLS);
    for (const [k, one] of old.querySelectorAll(CONTROLS).entries()) update(one, controls[k]);
  } else {
    const own = old instanceof HTMLDetailsElement ? "open" : "data-typing"; // what the maker did to it stays
    for (const { name } of [...old.attributes]) if (!wanted.hasAttribute(name) && name !== own) old.removeAttribute(name);
    for (const { name, value } of wanted.attributes) if (name !== own && old.getAttribute(name) !== value) old.setAttribute(name, value);
    follow(old, wanted);
  }
  if (isControl(old) && isControl(wanted) && !old.dataset.typing && old.value !== wanted.value) old.value = wanted.value;
}

/**
 * @param {unknown} thing
 * @returns {thing is Control}
 */
export const isControl = (thing) => thing instanceof Element && thing.matches(CONTROLS);
