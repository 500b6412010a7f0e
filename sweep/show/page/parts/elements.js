// Elements of the page and of its drawings: found by their names, made in one go, and where one points in them.

const SVG = "http://www.w3.org/2000/svg";

/**
 * The element of a name, of the kind that it is taken for.
 * @template {Element} T
 * @param {string} id
 * @param {new () => T} kind
 * @returns {T}
 */
export function the(id, kind) {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new Error(`the page has no ${kind.name} called ${id}`);
  return found;
}

/** @param {string} id */
export const by = (id) => the(id, HTMLElement);

/**
 * @param {string} id
 * @param {boolean} can Whether a button does something.
 */
export function usable(id, can) {
  the(id, HTMLButtonElement).disabled = !can;
}

/** @param {string} id */
export const input = (id) => the(id, HTMLInputElement);

/** @param {string} id */
export const select = (id) => the(id, HTMLSelectElement);

/**
 * @param {string} id
 * @param {string} words
 */
export function say(id, words) {
  const place = by(id);
  if (place.textContent !== words) place.textContent = words; // what is told again is not heard again
}

/**
 * Let HTML of the program's stand in a place; words in it are escaped there.
 * @param {HTMLElement} place
 * @param {string} html
 */
export const write = (place, html) => place.replaceChildren(...new DOMParser().parseFromString(html, "text/html").body.childNodes);

/**
 * Let something be done whenever something happens to an element; what does not rise from those in it is heard first.
 * @template {keyof HTMLElementEventMap} Name
 * @param {string} id
 * @param {Name} name
 * @param {(event: HTMLElementEventMap[Name]) => unknown} act
 */
export const on = (id, name, act, first = false) => by(id).addEventListener(name, act, first);

/**
 * @param {() => unknown} act
 * @param {Record<string, string | number>} attributes
 * @param {...(Node | string)} inside
 */
export function button(act, attributes, ...inside) {
  const made = element("button", { type: "button", ...attributes }, ...inside);
  made.addEventListener("click", act);
  return made;
}

/**
 * Hand a file to whoever looks at the page.
 * @param {Blob} content
 * @param {string} name
 */
export function handOver(content, name) {
  const link = element("a", { href: URL.createObjectURL(content), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

/**
 * @template {Element} Made
 * @param {Made} made
 * @param {Record<string, string | number>} attributes
 * @param {(Node | string)[]} inside
 */
export function filled(made, attributes, inside) {
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...inside);
  return made;
}

/**
 * @template {keyof HTMLElementTagNameMap} Name
 * @param {Name} name
 * @param {Record<string, string | number>} [attributes]
 * @param {...(Node | string)} inside
 * @returns {HTMLElementTagNameMap[Name]}
 */
export function element(name, attributes = {}, ...inside) {
  return filled(document.createElement(name), attributes, inside);
}

/**
 * @param {string} name
 * @param {Record<string, string | number>} attributes
 * @param {...(Node | string)} inside
 */
export const shape = (name, attributes, ...inside) => filled(document.createElementNS(SVG, name), attributes, inside);

/**
 * Where a drawing is pointed at, in its own units.
 * @param {SVGGraphicsElement | null} drawing
 * @param {MouseEvent} event
 */
export const under = (drawing, { clientX, clientY }) => new DOMPoint(clientX, clientY).matrixTransform(drawing?.getScreenCTM()?.inverse());
