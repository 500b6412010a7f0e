// What is written over the picture where one looks square on it: drawn already, put there while the camera stands so.

import { put } from "./section.js";

/** @import { Over } from "./shown.d.ts" */

/** @type {WeakMap<HTMLElement, string>} What stands in a place, so that it is read once. */
const STANDS = new WeakMap();

/**
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
