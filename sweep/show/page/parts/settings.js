// The settings of a live page: a slider and a field each, what differs from the file, undo, solve and save.

import { by, element, say, the } from "./elements.js";

/** @import { Changes, Live, Setting } from "./shown.d.ts" */

/**
 * The page that the settings stand on: it runs the simulation anew, and asks the program that serves it.
 * @typedef {object} Desk
 * @property {(dragged: boolean) => void} cut
 * @property {(path: string, more: { changes: Changes }) => Promise<any>} ask
 *
 * What a setting is moved by, and where it is told about.
 * @typedef {{ field: HTMLElement, slider: HTMLInputElement, text: HTMLInputElement, note: HTMLElement }} Controls
 */

export class Settings {
  /** @type {Changes} */
  changes = {};
  /** @type {Changes[]} */
  past = [];
  /** @type {Map<string, Setting>} As the settings stand in the file. */
  file = new Map();
  /** @type {Map<string, Setting>} As they were last worked out. */
  rows = new Map();
  /** @type {Map<string, Controls>} */
  controls = new Map();

  /**
   * @param {Desk} desk
   * @param {Live} live
   * @param {Setting[]} rows As they stand in the file.
   */
  constructor(desk, live, rows) {
    this.desk = desk;
    this.live = live;
    by("settings").hidden = false;
    this.buttons = { undo: the("undo", HTMLButtonElement), back: the("back", HTMLButtonElement), save: the("save", HTMLButtonElement) };
    this.buttons.undo.addEventListener("click", () => this.undo());
    this.buttons.back.addEventListener("click", () => this.become({}));
    this.buttons.save.addEventListener("click", () => this.save());
    this.buttons.save.textContent = `Save to ${live.file}`;
    by("solve").addEventListener("click", () => this.solve());
    document.addEventListener("keydown", (event) => {
      if ((event.ctrlKey || event.metaKey) && event.key === "z" && !isField(event.target)) {
        event.preventDefault();
        this.undo();
      }
    });
    this.ofFile(rows);
  }

  /**
   * The settings as they stand in the file.
   * @param {Setting[]} rows
   */
  ofFile(rows) {
    this.file = new Map(rows.map((row) => [row.key, row]));
    this.put(rows);
  }

  /** @param {Setting[]} rows */
  put(rows) {
    this.rows = new Map(rows.map((row) => [row.key, row]));
    if (rows.length !== this.controls.size) {
      this.controls = new Map(rows.map((row) => [row.key, this.made(row)]));
      by("fields").replaceChildren(...[...this.controls.values()].map(({ field }) => field));
    }
    for (const [key, { slider, text }] of this.controls) {
      const row = this.rows.get(key);
      if (!row) continue;
      Object.assign(slider, { min: row.least, max: row.most, step: row.step });
      if (document.activeElement !== slider || slider.dataset.held !== "yes") slider.value = String(row.value);
      if (document.activeElement !== text) text.value = String(this.changes[row.key] ?? row.text);
      slider.setAttribute("aria-valuetext", text.value);
    }
    this.tell();
  }

  /**
   * @param {Setting} row
   * @returns {Controls}
   */
  made(row) {
    const id = row.key.replace(".", "-");
    const slider = element("input", { type: "range", id: `${id}-slider`, "aria-label": `${row.label}, slider`, min: row.least, max: row.most, step: row.step });
    const text = element("input", { type: "text", id, autocomplete: "off", spellcheck: "false", "aria-describedby": `${id}-note` });
    const note = element("div", { class: "note", id: `${id}-note` });
    slider.value = String(row.value);
    slider.addEventListener("input", () => {
      if (slider.dataset.held !== "yes") this.remember();
      slider.dataset.held = "yes";
      this.changes[row.key] = text.value = written(this.rows.get(row.key) ?? row, Number(slider.value));
      this.forget(row.key);
      this.tell();
      this.desk.cut(true);
    });
    slider.addEventListener("change", () => {
      slider.dataset.held = "no";
      this.desk.cut(false);
    });
    text.addEventListener("change", () => {
      this.remember();
      this.changes[row.key] = text.value;
      this.forget(row.key);
      this.tell();
      this.desk.cut(false);
    });
    const field = element("div", { class: "field", "data-key": row.key }, element("label", { for: id }, row.label), slider, text, note);
    return { field, slider, text, note };
  }

  remember() {
    this.past.push({ ...this.changes });
    say("status", "");
  }

  undo() {
    const before = this.past.pop();
    if (before) this.set(before);
  }

  /** @param {Changes} changes */
  become(changes) {
    this.remember();
    this.set(changes);
  }

  /** @param {Changes} changes */
  set(changes) {
    this.changes = { ...changes };
    for (const key of this.file.keys()) this.forget(key);
    if (document.activeElement instanceof HTMLElement && isField(document.activeElement)) document.activeElement.blur();
    this.desk.cut(false);
  }

  /**
   * Show a refusal beside the field that it is about, or below them all.
   * @param {string} key
   * @param {string} sentence
   */
  refuse(key, sentence) {
    const controls = this.controls.get(key);
    if (controls) {
      controls.text.setAttribute("aria-invalid", "true");
      controls.note.replaceChildren(element("span", { class: "refused" }, sentence));
    } else say("refused", sentence);
  }

  /** @param {string} key */
  forget(key) {
    say("refused", "");
    this.controls.get(key)?.text.removeAttribute("aria-invalid");
  }

  // What differs from the file.
  tell() {
    for (const [key, row] of this.file) {
      const controls = this.controls.get(key);
      if (!controls || controls.text.getAttribute("aria-invalid") === "true") continue;
      const { field, note } = controls, differs = key in this.changes && this.changes[key] !== row.text;
      field.classList.toggle("changed", differs);
      if (!differs) note.replaceChildren();
      else if (!note.querySelector("button")) note.replaceChildren(this.wayBack(row));
    }
    const words = Object.entries(this.changes).map(([key, value]) => this.difference(key, value)).filter(Boolean);
    say("changed", words.length ? `Changed against the file: ${words.join("; ")}.` : "");
    this.buttons.undo.disabled = !this.past.length;
    this.buttons.back.disabled = this.buttons.save.disabled = !words.length;
  }

  /**
   * @param {string} key
   * @param {string | string[]} value
   */
  difference(key, value) {
    const row = this.file.get(key);
    if (Array.isArray(value)) return `passes at ${value.join(", ")}`;
    return row && value !== row.text ? `${row.label} ${row.text} \u2192 ${value}` : "";
  }

  /** @param {Setting} row */
  wayBack(row) {
    const back = element("button", { type: "button", "aria-label": `${row.label}: back to ${row.text}` }, `file: ${row.text}`);
    back.addEventListener("click", () => {
      this.become(Object.fromEntries(Object.entries(this.changes).filter(([key]) => key !== row.key)));
    });
    return back;
  }

  async solve() {
    say("status", "Working out the set-up \u2026");
    const found = await this.desk.ask("solve", { changes: this.changes });
    if (found) this.become({ ...this.changes, ...found.changes });
    say("status", found ? found.words : "");
  }

  async save() {
    const saved = await this.desk.ask("save", { changes: this.changes });
    if (!saved) return;
    this.live.version = saved.version;
    this.changes = {};
    this.past = [];
    this.ofFile(saved.settings);
    say("status", `Saved to ${this.live.file}; comments and order are as they were.`);
  }
}

/** @param {EventTarget | null} thing */
const isField = (thing) => thing instanceof HTMLInputElement && thing.type === "text";

/**
 * A value of a slider, as a maker would write it: 64ths of an inch as a fraction.
 * @param {Setting} row
 * @param {number} value
 */
function written(row, value) {
  if (row.unit !== "in") return `${Number(value.toFixed(3))} ${row.unit}`;
  const all = Math.round(Math.abs(value) * 64), whole = Math.floor(all / 64);
  let parts = all - whole * 64, below = 64;
  while (parts && parts % 2 === 0) [parts, below] = [parts / 2, below / 2];
  const text = [whole || !parts ? whole : "", parts ? `${parts}/${below}` : ""].filter((piece) => piece !== "").join(" ");
  return `${value < 0 && text !== "0" ? "-" : ""}${text} in`;
}
