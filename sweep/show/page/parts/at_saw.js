// The phone at the saw: one step a screen, back and next with a thumb or the space bar, dark and still while it cuts.

import { button, by, element, handOver, input, on, say, usable } from "./elements.js";
import { Hold } from "./hold.js";
import { Ticking, bars } from "./pacer.js";
import { answer } from "./saw_correct.js";
import { SawRecord } from "./saw_record.js";
import { toldOf, typedLength } from "./saw_told.js";
import { put } from "./section.js";

/** @import { Saw, SawMeasure, SawStep } from "./shown.d.ts" */

const NAMES = { width: "Width at the table", depth: "Depth", flat: "Flat at the fence", accuracy: "How exact" };
const MOST = 200; // boxes for blanks that nobody counted beforehand

/**
 * @param {string} id
 * @param {string} words
 * @param {boolean} checked
 * @param {(checked: boolean) => void} changed
 */
function box(id, words, checked, changed) {
  const made = element("input", { type: "checkbox", id });
  made.checked = checked;
  made.addEventListener("change", () => changed(made.checked));
  return element("label", {}, made, words);
}

export class AtSaw {
  place = 0;
  open = false;
  /** @type {Set<string>} Cuts after which the blade was said to stand still. */
  stood = new Set();
  ticking = new Ticking();
  answer = answer; // where the tests find these
  typed = typedLength;
  ticks = false; // whether a tick is to be heard
  /** @type {WakeLockSentinel | null} */
  lock = null;

  /** @param {Saw} saw */
  constructor(saw) {
    this.saw = saw;
    this.record = new SawRecord(saw);
    for (const { key, kind } of saw.steps) if (kind === "cut" && this.record.has(key)) this.stood.add(key);
    this.place = Math.max(0, saw.steps.findIndex(({ key }) => key === this.record.kept.at));
    say("saw-job", saw.named);
    say("saw-still-words", saw.still);
    on("saw-back", "click", () => this.go(this.place - 1));
    on("saw-next", "click", () => this.go(this.place + 1));
    on("saw-place", "click", () => this.list(Boolean(by("saw-all").hidden)));
    input("saw-done").addEventListener("change", ({ target }) => {
      if (target instanceof HTMLInputElement) this.record.tick(this.step.key, target.checked);
    });
    new Hold(by("saw-still"), () => this.open && this.cutting, () => this.still());
    document.addEventListener("keydown", (event) => this.key(event));
    document.addEventListener("visibilitychange", () => this.wake());
  }

  /** @returns {SawStep} */
  get step() {
    return this.saw.steps[this.place];
  }

  // Whether the blade turns: nothing is shown then, and only holding the button ends it.
  get cutting() {
    return this.step.kind === "cut" && !this.stood.has(this.step.key);
  }

  begin() {
    this.open = true;
    by("saw").hidden = false;
    document.body.classList.add("sawing");
    this.notices();
    this.draw();
    this.wake();
  }

  end() {
    this.open = false;
    this.ticking.end();
    by("saw").hidden = true;
    document.body.classList.remove("sawing");
    this.lock?.release();
    this.lock = null;
  }

  // The screen stays awake where the browser allows it; it forgets whenever the page is out of sight.
  async wake() {
    if (!this.open || document.hidden) return;
    try {
      this.lock = await navigator.wakeLock.request("screen");
    } catch {
      this.lock = null; // refused, or not known here
    }
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (!this.open || event.key !== " " || event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.target instanceof Element && event.target.closest("button, input, a, select, textarea")) return;
    event.preventDefault();
    if (!this.cutting) this.go(this.place + (event.shiftKey ? -1 : 1));
  }

  /** @param {number} place */
  go(place) {
    if (!this.saw.steps[place]) return;
    this.place = place;
    this.record.at(this.step.key);
    this.draw();
  }

  still() {
    this.stood.add(this.step.key);
    this.record.tick(this.step.key, true);
    this.draw();
  }

  /**
   * The list of all steps, in place of the one that is shown.
   * @param {boolean} shown
   */
  list(shown) {
    by("saw-all").hidden = !shown;
    by("saw-step").hidden = shown;
    by("saw-place").ariaExpanded = String(shown);
    if (!shown) return;
    by("saw-steps").replaceChildren(...this.saw.steps.map(({ key, title }, place) => {
      const ticked = this.record.has(key) ? " \u2713" : "";
      return element("li", {}, button(() => this.go(place), place === this.place ? { "aria-current": "step" } : {}, `${title}${ticked}`));
    }));
    by("saw-steps").querySelector("[aria-current]")?.scrollIntoView({ block: "center" });
  }

  notices() {
    const { before, keeps } = this.record, told = [];
    if (!keeps) told.push("This browser keeps nothing: ticks last only as long as this page is open.");
    if (before && !this.record.kept.done.length) told.push(`This job has changed since ${before.date}: what was ticked then is not shown here.`);
    by("saw-notices").replaceChildren(...told.map((words) => element("p", {}, words)));
  }

  /** @param {string} words */
  tell(words) {
    by("saw-notices").append(element("p", {}, words));
  }

  draw() {
    const { step, saw, cutting } = this, { steps } = saw;
    this.list(false);
    by("saw").classList.toggle("cutting", cutting);
    by("saw").dataset.kind = step.kind;
    say("saw-place", `${this.place + 1} of ${steps.length}`);
    const counted = step.kind === "cut" && !cutting;
    say("saw-banner", counted ? saw.out : step.over);
    by("saw-banner").dataset.banner = counted ? "out" : step.banner;
    say("saw-title", step.title);
    by("saw-flags").replaceChildren(...(step.flags ?? []).map((words) => element("li", {}, words)));
    by("saw-big").replaceChildren(...(step.big ?? []).map(([figure, unit, note]) =>
      element("li", {}, element("b", {}, figure), element("span", { class: "unit" }, unit), element("span", {}, note))));
    if (step.picture === undefined || cutting) by("saw-picture").replaceChildren();
    else put(by("saw-picture"), saw.pictures[step.picture]);
    by("saw-words").replaceChildren(...(counted ? [] : step.words).map((words) => element("p", {}, words)));
    by("saw-cautions").replaceChildren(...(step.cautions ?? []).map(([name, words]) => element("li", {}, element("strong", {}, name), ` ${words}`)));
    by("saw-more").replaceChildren(...(cutting ? [] : this.more(step)));
    input("saw-done").checked = this.record.has(step.key);
    by("saw-done-label").hidden = cutting || step.kind === "barred";
    usable("saw-back", this.place > 0);
    usable("saw-next", this.place < steps.length - 1);
    by("saw-next").hidden = cutting;
    by("saw-still").hidden = !cutting;
    if (cutting && this.ticks) this.ticking.begin();
    else this.ticking.end();
    by("saw-step").scrollTop = 0;
    by("saw-title").focus({ preventScroll: true });
  }

  /**
   * What is done on a screen beside reading it.
   * @param {SawStep} step
   * @returns {HTMLElement[]}
   */
  more(step) {
    if (step.paces) return bars(step.paces);
    if (step.kind === "cut") return [this.blanks(step)];
    if (step.measure) return this.measured(step, step.measure);
    if (step.tick) return [this.tick(step.tick)];
    return step.key === "keep" ? this.kept() : [];
  }

  /** @param {string} words */
  tick(words) {
    return box("saw-tick", words, this.ticks, (checked) => {
      this.ticks = checked;
      this.ticking.ask();
    });
  }

  /**
   * A box for each blank; where nobody knows how many there are, one more than are ticked.
   * @param {SawStep} step
   */
  blanks(step) {
    const boxes = [...(this.record.kept.counted[step.key] ?? [])], count = step.count || Math.min(MOST, boxes.filter(Boolean).length + 1);
    const all = Array.from({ length: count }, (_, place) => box(`saw-blank-${place + 1}`, String(place + 1), Boolean(boxes[place]), (checked) => {
      boxes[place] = checked;
      this.record.count(step.key, Array.from(boxes, Boolean));
      if (!step.count) by("saw-more").replaceChildren(this.blanks(step));
    }));
    return element("fieldset", { class: "saw-blanks" }, element("legend", {}, step.counts ?? ""), ...all);
  }

  /**
   * @param {SawStep} step
   * @param {SawMeasure} measure
   */
  measured(step, measure) {
    const kept = this.record.kept.measured[step.key] ?? {};
    /** @type {[string, string][]} */
    const fields = [...measure.asked, ["accuracy", ""]];
    const tells = element("div", { class: "saw-tells", role: "status" }), refused = new Set();
    const tell = () => tells.replaceChildren(...(refused.size ? [] : this.told(step.key, measure))); // not of a figure before it
    tell();
    return [...fields.map(([name, want]) => {
      const id = `saw-${name}`, field = element("input", { type: "text", id, inputmode: this.saw.unit === "mm" ? "decimal" : "text", autocomplete: "off", "aria-describedby": `${id}-note` });
      const note = element("span", { class: "refused", id: `${id}-note` });
      field.value = kept[name] ?? "";
      field.addEventListener("change", () => {
        const taken = this.record.measure(step.key, name, field.value);
        field.ariaInvalid = String(!taken);
        note.textContent = taken ? "" : `Write a length, for example ${this.saw.example}.`;
        refused[taken ? "delete" : "add"](name);
        tell();
      });
      const label = element("label", { for: id }, `${NAMES[/** @type {keyof typeof NAMES} */ (name)]}${want ? `, ${want}` : ""}`);
      return element("div", { class: "saw-field" }, label, field, element("span", {}, this.saw.unit), note);
    }), tells];
  }

  /**
   * What the figures that are typed tell, looked up in what the page holds.
   * @param {string} key
   * @param {SawMeasure} measure
   */
  told(key, measure) {
    const table = this.saw.tables[measure.place], texts = this.record.kept.measured[key] ?? {};
    /** @type {(name: string) => number | null} */
    const read = (name) => typedLength(texts[name] ?? "", this.saw.unit);
    const measured = { width: read("width"), depth: read("depth"), flat: read("flat") };
    if (!table || Object.values(measured).every((one) => one === null)) return [];
    return toldOf(this.saw, table, answer(table, measure.pass, measured, read("accuracy") || table.measured), measure.pass);
  }

  // The record written out, and the ticks forgotten for the next time.
  kept() {
    const write = button(() => handOver(new Blob([this.record.toml], { type: "application/toml" }), "at-the-saw.toml"), { id: "saw-write" }, "Write down");
    let asked = false;
    const forget = button(() => {
      if (asked) {
        this.record.forget();
        this.stood.clear();
        return this.go(0);
      }
      asked = true;
      forget.textContent = "Press again: what was ticked, counted and measured is forgotten";
    }, { id: "saw-forget" }, "Begin anew");
    return [write, forget];
  }
}
