// The section with its dimensions, the deviation from the target below it, and what is written over the picture: drawn
// already, put in their places.

import { shape } from "./elements.js";


/** @import { Model, Over } from "./shown.d.ts" */

const PIXELS = 3.3; // to a mm of a drawing, at least: letters are neither tiny nor huge

/**
 * The drawing that suits the width of a place.
 * @template {{ width: number }} Drawn
 * @param {HTMLElement} place
 * @param {Drawn[]} drawn
 * @returns {Drawn}
 */
export const suited = (place, drawn) => {
  if (drawn.length === 1) return drawn[0]; // to ask how wide the place is would lay the page out anew
  const wide = place.clientWidth || 600;
  return drawn.reduce((best, one) => (one.width * PIXELS <= wide ? one : best));
};

/**
 * The width of the drawing that suits a place, mm.
 * @param {HTMLElement} place
 * @param {Model} model
 */
export const sectionWidth = (place, model) => suited(place, model.section).width;

/**
 * Where the drawing in a place has the stock: its middle and its face on the table, and units to a mm.
 * @param {HTMLElement} place
 * @param {Model} model
 */
export const frameIn = (place, model) => suited(place, model.section).frame;

/** @type {(place: HTMLElement, drawing: string) => void} */
export const put = (place, drawing) => {
  place.replaceChildren(document.importNode(new DOMParser().parseFromString(drawing, "image/svg+xml").documentElement, true));
};

/**
 * @param {HTMLElement} place
 * @param {Model} model
 * @param {number} selected
 * @param {(number: number) => void} pick
 */
export function drawSection(place, model, selected, pick) {
  put(place, suited(place, model.section).section);
  for (const part of place.querySelectorAll("[data-pass]")) {
    const one = model.passes[Number(part.getAttribute("data-pass")) - 1];
    const taken = one.number <= selected && part.getAttribute("fill") !== "none";
    if (taken) part.setAttribute("fill", one.colour); // what is still to be taken stays pale
    if (taken && one.number === selected) part.classList.add("picked");
    part.append(shape("title", {}, [`pass ${one.number}`, ...one.flags.map((flag) => flag.message)].join(": ")));
    part.addEventListener("click", () => pick(one.number));
  }
}

/**
 * @param {HTMLElement} place
 * @param {Model} model
 */
export function drawDeviation(place, model) {
  const { deviation } = suited(place, model.section);
  if (deviation) put(place, deviation);
  else place.replaceChildren();
}

/** @type {WeakMap<HTMLElement, string>} What stands in a place, so that it is read once. */
const STANDS = new WeakMap();

/**
 * What is written over the picture where one looks square on it, put there while the camera stands so.
 * @param {HTMLElement} place
 * @param {Over | null} over
 * @param {number} number
 */
export function drawOver(place, over, number) {
  for (const [k, drawing] of [over?.always ?? "", over?.passes[number - 1] ?? ""].entries()) {
    const layer = /** @type {HTMLElement} */ (place.children[k]);
    if ((STANDS.get(layer) ?? "") === drawing) continue;
    STANDS.set(layer, drawing);
    if (drawing) put(layer, drawing);
    else layer.replaceChildren();
  }
}
