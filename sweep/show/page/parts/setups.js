// Several set-ups, one after the other: which of them a pass is of, what each takes, and the list to go to one.

import { button, by, element } from "./elements.js";
import { put, suited } from "./section.js";

/** @import { Come, Section, Shown } from "./shown.d.ts" */

export class Setups {
  place = 0; // which of the set-ups is shown, from 0

  /** @type {Shown[]} */
  models = [];
  /** @type {Section[]} */
  overview = [];
  /** @type {Section[] | null} The overview that stands in its place; while a slider is held none comes. */
  drawn = null;

  /** @param {Come} come */
  constructor(come) {
    this.take(come);
  }

  /**
   * Take in what has come: all set-ups, or the moment of one while a setting is moved; what that leaves out stays.
   * @param {Come} come
   */
  take({ model, rest, overview, place }) {
    if (place !== undefined && place < this.models.length) return void this.renew(place, model);
    const before = this.models[0];
    this.models = [model];
    for (const one of rest ?? []) this.models.push({ blade: this.models[one.blade_as ?? 0]?.blade, ...one });
    this.overview = overview ?? [];
    this.place = Math.min(this.place, this.models.length - 1);
    if (before && !rest) this.fill(model, before);
  }

  /**
   * @param {number} place
   * @param {Shown} model
   */
  renew(place, model) {
    const before = this.models[place];
    this.models[place] = model;
    model.finished = before.finished;
    this.fill(model, before);
  }

  /**
   * What is not sent while a slider is held is as it was.
   * @param {Shown} model
   * @param {Shown} before
   */
  fill(model, before) {
    model.blade ??= before.blade;
    if (!model.steps.length) model.steps = before.steps;
    if (!model.views.length) [model.views, model.made] = [before.views, before.made];
  }

  get several() {
    return this.models.length > 1;
  }

  // How many set-ups are written: a rabbet is two settings of the saw.
  get count() {
    return (this.models[this.models.length - 1].of ?? 0) + 1;
  }

  // Whether the last of them is shown: the stock lies then as it does at the end.
  get atEnd() {
    return this.place === this.models.length - 1;
  }

  // How many passes come before those of the set-up that is shown.
  get before() {
    return this.passesTo(this.place);
  }

  get passes() {
    return this.passesTo(this.models.length);
  }

  /** @param {number} place */
  passesTo(place) {
    return this.models.slice(0, place).reduce((sum, { passes }) => sum + passes.length, 0);
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

  /**
   * The place of a pass of one of the set-ups, from 0, counted on through all: of a rabbet its first cut's.
   * @param {number} setup
   * @param {number} number
   */
  passOf(setup, number) {
    return this.passesTo(Math.max(0, this.models.findIndex(({ of }) => of === setup))) + number;
  }

  /**
   * Draw what each set-up takes, and list them; the one that is shown is marked.
   * @param {(number: number) => void} go
   */
  draw(go) {
    const panel = document.getElementById("setups-panel");
    if (panel) panel.hidden = !this.several;
    if (!this.several) return;
    if (this.drawn !== this.overview) put(by("overview"), suited(by("overview"), this.overview).section);
    this.drawn = this.overview;
    let before = 0;
    by("setups").replaceChildren(...this.models.map((model, place) => {
      const swatch = element("i"), first = before + 1, count = model.flagged ?? 0;
      swatch.style.background = model.mark ?? "";
      before += model.passes.length;
      const flagged = count ? [element("span", { class: "alarm" }, ` ! ${count} flag${count === 1 ? "" : "s"}`)] : [];
      const shows = button(() => go(first), { "aria-current": String(place === this.place) }, swatch, model.name ?? "");
      return element("li", {}, shows, ...flagged, element("p", { class: "faint" }, model.brief ?? ""));
    }));
  }
}
