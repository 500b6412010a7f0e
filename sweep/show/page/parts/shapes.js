// Shapes of a drawing: made in one go, and where in it something points.

const SVG = "http://www.w3.org/2000/svg";

/**
 * @param {string} name
 * @param {Record<string, string | number>} attributes
 * @param {...(Node | string)} inside
 */
export function shape(name, attributes, ...inside) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...inside);
  return made;
}

/**
 * Where a drawing is pointed at, in its own units.
 * @param {SVGGraphicsElement | null} drawing
 * @param {MouseEvent} event
 */
export const under = (drawing, { clientX, clientY }) => new DOMPoint(clientX, clientY).matrixTransform(drawing?.getScreenCTM()?.inverse());
