// The heights of the passes as rungs at the edge of the section: each is dragged up and down.

import { by, shape } from "./elements.js";
import { written } from "./notation.js";
import { frameIn } from "./section.js";

/** @import { Editor } from "./edits.js" */
/** @import { Page } from "./page.js" */

const FROM = 0.5, TO = 3.2, INTO = 5; // units of the drawing: a rung stands beside the stock, and is caught a little into it

export class Rungs {
  held = -1;
  text = "";
  /** @type {(event: PointerEvent) => number} */
  height = () => 0; // above the table, that is pointed at, mm

  /**
   * @param {Page} page
   * @param {Editor} editor
   */
  constructor(page, editor) {
    this.page = page;
    this.editor = editor;
    const place = by("section");
    place.addEventListener("pointerdown", (event) => {
      if (!(event.target instanceof SVGElement) || event.target.dataset.rung === undefined) return;
      event.preventDefault(); // or words of the drawing would be picked
      this.height = this.heights();
      const at = this.height(event), away = page.model.passes.map(({ height }) => Math.abs(height - at));
      this.held = away.indexOf(Math.min(...away)); // they lie close to one another
      place.setPointerCapture(event.pointerId);
    });
    place.addEventListener("pointermove", (event) => this.held >= 0 && this.move(event));
    for (const end of ["pointerup", "pointercancel"]) place.addEventListener(end, () => this.letGo());
  }

  /**
   * The path of a height.
   * @param {number} k
   */
  path(k) {
    const { of } = this.page.model;
    return `${of === undefined ? "" : `setups.${of}.`}passes.heights.${k}`;
  }

  /**
   * The field of a height, where it is written: a rabbet's passes are not.
   * @param {number} k
   */
  field(k) {
    return document.getElementById(this.path(k).replaceAll(".", "-"));
  }

  draw() {
    const { page } = this, place = by("section"), drawing = place.querySelector("svg"), { width } = page.model.stock;
    const [middle, base, scale] = frameIn(place, page.model), edge = middle + scale * width / 2;
    const { passes } = page.model, apart = passes.map(({ height }, k) => scale * (height - (passes[k - 1]?.height ?? 0)));
    const thin = Math.max(0.2, Math.min(1, ...apart.map((rise) => rise / 2))); // each is seen apart from the next
    passes.forEach(({ height, colour }, k) => {
      if (!drawing || !this.field(k)) return;
      for (const [stroke, wide] of /** @type {[string, number][]} */ ([["#26282c", 1.5 * thin], [colour, 0.9 * thin], ["transparent", 3.2]])) {
        const y = base - scale * height, from = stroke === "transparent" ? -INTO : FROM;
        drawing.append(shape("line", { x1: edge + from, x2: edge + TO, y1: y, y2: y, stroke, "stroke-width": wide, class: "rung", "data-rung": k }));
      }
    });
  }

  /**
   * What tells the height above the table that is pointed at, mm, in the drawing as it lies now: while a rung is held,
   * each answer may let it lie otherwise, and what is held must not go with it.
   * @returns {(event: PointerEvent) => number}
   */
  heights() {
    const place = by("section"), [, base, scale] = frameIn(place, this.page.model);
    const lies = place.querySelector("svg")?.getScreenCTM()?.inverse();
    return ({ clientX, clientY }) => {
      const { y } = new DOMPoint(clientX, clientY).matrixTransform(lies);
      return (base - y) / scale;
    };
  }

  /** @param {PointerEvent} event */
  move(event) {
    const { page, held } = this, { passes } = page.model;
    const told = this.field(held)?.closest("td")?.dataset ?? {}, unit = told.unit ?? "mm", step = Number(told.step);
    const mm = unit === "in" ? 25.4 : 1, below = (passes[held - 1]?.height ?? 0) / mm, above = (passes[held + 1]?.height ?? Infinity) / mm;
    const least = Math.floor(below / step + 1.001), most = Math.ceil(above / step - 1.001); // steps between those beside it
    const text = written(unit, step * Math.max(least, Math.min(most, Math.round(this.height(event) / mm / step))));
    if (least > most || text === this.text) return;
    this.text = text;
    this.editor.move({ path: this.path(held), do: "type", value: text }, `height of pass ${held + 1} ${text}`);
  }

  letGo() {
    if (this.held >= 0 && this.text) this.editor.release();
    [this.held, this.text] = [-1, ""];
  }
}
