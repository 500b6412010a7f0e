// The profile of a new job: drawn by its points on the end of the stock, or a file that was dropped.

import { by, element, input, on, say, shape, the, under } from "./elements.js";
import { written } from "./notation.js";

/** @import { Vector } from "./shown.d.ts" */

const MOST = 2_000_000; // bytes of a file
const MANY = 60; // points that are still moved one by one
/** @type {Map<string, Vector>} Steps to the right and up that a key moves a point by. */
const MOVES = new Map([["ArrowLeft", [-1, 0]], ["ArrowRight", [1, 0]], ["ArrowUp", [0, 1]], ["ArrowDown", [0, -1]]]);

/** @typedef {{ points: Vector[], wrong: Record<string, string>, sides: Vector | null }} Told */

export class Profile {
  name = ""; // of a file
  content = "";
  /** @type {[string, string][]} As they are typed. */
  typed = [];
  /** @type {Vector[]} The same, mm. */
  points = [];
  sides = [92, 22]; // mm, of the stock: as good as any until it is known
  held = -1;

  /**
   * @param {() => boolean} inches
   * @param {() => void} changed
   */
  constructor(inches, changed) {
    this.inches = inches;
    this.changed = changed;
    on("draw-profile", "click", () => this.draw());
    on("drop-profile", "click", () => this.drop());
    on("add-point", "click", () => this.add(this.widest()));
    const file = input("profile-file");
    file.addEventListener("change", () => file.files?.[0] && this.take(file.files[0]));
    document.addEventListener("dragover", (event) => event.preventDefault());
    document.addEventListener("drop", (event) => {
      event.preventDefault();
      const [dropped] = event.dataTransfer?.files ?? [];
      if (dropped) this.take(dropped);
    });
    this.listen(the("profile-drawing", SVGSVGElement));
    on("profile-points", "change", () => this.read());
    on("profile-points", "click", ({ target }) => {
      const number = target instanceof HTMLElement ? target.dataset.remove : undefined;
      if (number) this.remove(Number(number));
    });
  }

  // What is sent of it.
  given() {
    if (!this.name && !this.typed.length) return null;
    return { name: this.name, content: this.content, points: this.name ? [] : this.typed, whole: input("profile-whole").checked };
  }

  /** @param {SVGSVGElement} drawing */
  listen(drawing) {
    drawing.addEventListener("pointerdown", (event) => {
      this.held = numberOf(event.target);
      if (this.held >= 0) drawing.setPointerCapture(event.pointerId);
    });
    drawing.addEventListener("pointermove", (event) => this.held >= 0 && this.move(this.held, this.under(event)));
    drawing.addEventListener("pointerup", () => (this.held = -1));
    drawing.addEventListener("dblclick", (event) => this.given() && !this.name && this.add(this.under(event)));
    drawing.addEventListener("keydown", (event) => {
      const number = numberOf(event.target), way = MOVES.get(event.key), step = this.step();
      if (number < 0) return;
      if (way) this.move(number, this.points[number].map((at, k) => at + way[k] * step));
      else if (event.key === "Delete") this.remove(number);
      else return;
      event.preventDefault();
    });
  }

  // The grid that points go by, mm.
  step() {
    return this.inches() ? 25.4 / 16 : 1;
  }

  draw() {
    const [width, thickness] = this.sides, step = this.step();
    /** @type {(at: number) => number} */
    const even = (at) => Math.round(at / step) * step;
    this.points = [[-even(width / 4), 0], [0, even(thickness / 2)], [even(width / 4), 0]];
    this.name = "";
    this.written();
  }

  /** @param {File} file */
  async take(file) {
    if (file.size > MOST) return say("notices", "The file is larger than 2 MB. Drop one that has the profile alone.");
    this.become(file.name, btoa(Array.from(new Uint8Array(await file.arrayBuffer()), (byte) => String.fromCharCode(byte)).join("")));
  }

  drop() {
    input("profile-file").value = "";
    this.become("", "");
    by("draw-profile").focus();
  }

  /**
   * @param {string} name Of a file; empty for none.
   * @param {string} content
   */
  become(name, content) {
    [this.name, this.content, this.typed, this.points] = [name, content, [], []];
    this.show();
    this.changed();
  }

  /**
   * What the program makes of it: the points of a file, and of typed ones those that are none.
   * @param {Told | null} told
   */
  told(told) {
    if (told?.sides) this.sides = told.sides;
    if (told && (this.name || !Object.keys(told.wrong).length) && this.held < 0) this.points = told.points;
    this.show(told?.wrong ?? {});
  }

  // Points were moved: they are written as a maker would.
  written() {
    const unit = this.inches() ? "in" : "mm", size = this.inches() ? 25.4 : 1;
    this.typed = this.points.map(([y, z]) => [written(unit, y / size), written(unit, z / size)]);
    this.show();
    this.changed();
  }

  // Points were typed.
  read() {
    const cells = [...by("profile-points").querySelectorAll("input")].map((one) => one.value);
    this.typed = cells.filter((_, k) => k % 2 === 0).map((cell, k) => [cell, cells[2 * k + 1]]);
    this.changed();
  }

  /**
   * @param {number} number
   * @param {Vector} to
   */
  move(number, to) {
    const step = this.step();
    this.points[number] = to.map((at) => Math.round(at / step) * step);
    this.written();
  }

  // Half-way along the widest gap.
  widest() {
    let best = 1;
    for (let k = 2; k < this.points.length; k++) if (gap(this.points, k) > gap(this.points, best)) best = k;
    return [0, 1].map((k) => (this.points[best - 1][k] + this.points[best][k]) / 2);
  }

  /** @param {Vector} at */
  add(at) {
    const after = this.points.findIndex(([y]) => y > at[0]), place = after < 0 ? this.points.length : after;
    this.points.splice(place, 0, at);
    this.move(place, at);
    this.focus(place);
  }

  /** @param {number} number */
  remove(number) {
    if (this.points.length <= 2) return;
    this.points.splice(number, 1);
    this.written();
    this.focus(Math.min(number, this.points.length - 1));
  }

  /** @param {number} number */
  focus(number) {
    /** @type {SVGElement | null} */ (the("profile-drawing", SVGSVGElement).querySelector(`[data-point="${number}"]`))?.focus();
  }

  /**
   * @param {MouseEvent} event
   * @returns {Vector}
   */
  under(event) {
    const { x, y } = under(the("profile-drawing", SVGSVGElement), event);
    return [x, -y];
  }

  /** @param {Record<string, string>} wrong */
  show(wrong = {}) {
    const there = Boolean(this.given()), free = !this.name && this.points.length <= MANY;
    by("profile").hidden = !there;
    for (const mark of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(".field.mark"))) mark.hidden = there;
    by("profile-table").hidden = !free;
    if (!there) return;
    say("profile-words", this.name ? `${this.name}: ${this.points.length} points` : "Drawn");
    this.paint(free);
    if (!free) return;
    const rows = this.typed.map((cells, k) => element("tr", {}, element("th", { scope: "row" }, String(k + 1)), ...cells.map((cell, side) =>
      element("td", {}, typing(k, side, cell, wrong[k] ?? ""))), element("td", {}, element("button", { type: "button", "data-remove": k, "aria-label": `take away point ${k + 1}` }, "take away"))));
    const active = document.activeElement?.id ?? "";
    by("profile-points").replaceChildren(...rows);
    if (active.startsWith("point-")) document.getElementById(active)?.focus();
  }

  /**
   * Draw the stock and the line on it; points that can be moved are on it.
   * @param {boolean} free
   */
  paint(free) {
    const [width, thickness] = this.sides, room = width / 20, drawing = the("profile-drawing", SVGSVGElement);
    const focused = document.activeElement?.getAttribute("data-point");
    drawing.setAttribute("viewBox", `${-width / 2 - room} ${-thickness - room} ${width + 2 * room} ${thickness + 2 * room}`);
    const line = this.points.map(([y, z]) => `${y},${-z}`).join(" ");
    drawing.replaceChildren(
      shape("rect", { x: -width / 2, y: -thickness, width, height: thickness, class: "stock" }),
      shape("polyline", { points: line, class: "line" }),
      ...(free ? this.points : []).map(([y, z], k) => shape("circle", {
        cx: y, cy: -z, r: width / 60, tabindex: 0, "data-point": k, role: "button",
        "aria-label": `point ${k + 1}: ${this.typed[k]?.join(" to the right, ")} up`,
      })),
    );
    if (focused && free) this.focus(Number(focused));
  }
}

/**
 * @param {EventTarget | null} thing
 */
const numberOf = (thing) => Number((thing instanceof SVGElement && thing.dataset.point) || -1);

/**
 * @param {Vector[]} points
 * @param {number} k
 */
const gap = (points, k) => Math.hypot(points[k][0] - points[k - 1][0], points[k][1] - points[k - 1][1]);

/**
 * @param {number} k
 * @param {number} side
 * @param {string} cell
 * @param {string} why
 */
function typing(k, side, cell, why) {
  return element("input", { type: "text", id: `point-${k}-${side}`, autocomplete: "off", value: cell, "aria-label": `point ${k + 1}, ${side ? "up" : "to the right"}`, "aria-invalid": String(Boolean(why)), title: why });
}
