// Elements of the page: found by their names, and made in one go.

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
 * @param {string} words
 */
export function say(id, words) {
  by(id).textContent = words;
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
 * @template {keyof HTMLElementTagNameMap} Name
 * @param {Name} name
 * @param {Record<string, string | number>} [attributes]
 * @param {...(Node | string)} inside
 * @returns {HTMLElementTagNameMap[Name]}
 */
export function element(name, attributes = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...inside);
  return made;
}
