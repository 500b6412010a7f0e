// Several set-ups, one after the other: which of them a pass is of, what each takes, and the list to go to one.

import { by, element } from "./elements.js";
import { put, suited } from "./section.js";

/** @import { Data, Shown } from "./shown.d.ts" */

export class Setups {
  place = 0; // which of the set-ups is shown, from 0

  /** @param {Data} data */
  constructor(data) {
    /** @type {Shown[]} */
    this.models = [data.model];
    for (const model of data.rest ?? []) this.models.push({ blade: this.models[model.blade_as ?? 0]?.blade, ...model });
    this.overview = data.overview ?? [];
  }

  get several() {
    return this.models.length > 1;
  }

  // How many passes come before those of the set-up that is shown.
  get before() {
    return this.models.slice(0, this.place).reduce((sum, { passes }) => sum + passes.length, 0);
  }

  get passes() {
    return this.models.reduce((sum, { passes }) => sum + passes.length, 0);
  }

  // The last place of all: the last pass, or beyond it the finished moulding.
  get last() {
    const end = this.models[this.models.length - 1];
    return this.passes + (end.finished ? 1 : 0);
  }

  /**
   * Go to the set-up of a pass, its number counted on through all; what is before the first is of the first.
   * @param {number} number
   * @returns {number} Its number within the set-up.
   */
  goTo(number) {
    this.place = 0;
    while (this.place < this.models.length - 1 && number > this.before + this.model.passes.length) this.place++;
    return number - this.before;
  }

  /** @returns {Shown} */
  get model() {
    return this.models[this.place];
  }

  set model(model) {
    this.models[this.place] = model;
  }

  /**
   * Draw what each set-up takes, and list them; the one that is shown is marked.
   * @param {(number: number) => void} go
   */
  draw(go) {
    if (!this.several) return;
    put(by("overview"), suited(by("overview"), this.overview).section);
    let before = 0;
    by("setups").replaceChildren(...this.models.map((model, place) => {
      const swatch = element("i"), first = before + 1, count = model.flags.length + model.passes.reduce((sum, { flags }) => sum + flags.length, 0);
      swatch.style.background = model.mark ?? "";
      before += model.passes.length;
      const flagged = count ? [element("span", { class: "alarm" }, ` ! ${count} flag${count === 1 ? "" : "s"}`)] : [];
      const button = element("button", { type: "button", "aria-current": String(place === this.place) }, swatch, model.name ?? "");
      button.addEventListener("click", () => go(first));
      return element("li", {}, button, ...flagged, element("p", { class: "faint" }, model.brief ?? ""));
    }));
  }
}
