// One way to set the job laid beside the one that is moved: its outline in the section, its solid over the one that is
// shown, its figures in a table.

import { become } from "./become.js";
import { by, shape } from "./elements.js";
import { frameIn } from "./section.js";

/** @import { Model, Packed, Value, Vector } from "./shown.d.ts" */

export class Beside {
  /** @type {Record<string, Value> | null} What the job was changed to when it was laid there. */
  changes = null;
  /** @type {Vector[][]} */
  outline = [];

  /** @type {Packed | null} */
  solid = null;

  /** @param {{ shown: string, outline: Vector[][], solid: Packed | null }} answer */
  put({ shown, outline, solid }) {
    Object.assign(this, { outline, solid });
    become(by("beside"), shown);
  }

  takeAway() {
    this.changes = null;
    this.put({ shown: "", outline: [], solid: null });
  }

  /**
   * Draw the outline over the section that stands in a place.
   * @param {HTMLElement} place
   * @param {Model} model
   */
  draw(place, model) {
    const drawing = place.querySelector("svg"), [middle, base, scale] = frameIn(place, model);
    for (const ring of drawing ? this.outline : []) {
      const points = ring.map(([y, z]) => `${(middle + scale * y).toFixed(3)},${(base - scale * z).toFixed(3)}`).join(" ");
      drawing?.append(shape("polygon", { points, class: "ghost" }));
    }
  }
}
