// The settings of a live page: a slider and a field each, what differs from the file, undo, solve and save.

import { element } from "./elements.js";

export class Settings {
  // `page` runs the simulation anew (`cut`) and asks the program that serves it (`ask`); `rows` are the file's settings.
  constructor(page, rows) {
    this.page = page;
    this.changes = {};
    this.past = [];
    this.place = document.getElementById("fields");
    document.getElementById("settings").hidden = false;
    this.buttons = Object.fromEntries(["undo", "back", "solve", "save"].map((id) => [id, document.getElementById(id)]));
    this.buttons.undo.addEventListener("click", () => this.undo());
    this.buttons.back.addEventListener("click", () => this.become({}));
    this.buttons.solve.addEventListener("click", () => this.solve());
    this.buttons.save.addEventListener("click", () => this.save());
    this.buttons.save.textContent = `Save to ${page.live.file}`;
    document.addEventListener("keydown", (event) => {
      if ((event.ctrlKey || event.metaKey) && event.key === "z" && event.target.type !== "text") {
        event.preventDefault();
        this.undo();
      }
    });
    this.ofFile(rows);
  }

  // The settings as they stand in the file.
  ofFile(rows) {
    this.file = Object.fromEntries(rows.map((row) => [row.key, row]));
    this.put(rows);
  }

  put(rows) {
    if (rows.length !== this.place.children.length) this.place.replaceChildren(...rows.map((row) => this.field(row)));
    for (const row of rows) {
      const { slider, text } = this.parts(row.key);
      Object.assign(slider, { min: row.least, max: row.most, step: row.step });
      if (document.activeElement !== slider || slider.dataset.held !== "yes") slider.value = row.value;
      if (document.activeElement !== text) text.value = this.changes[row.key] ?? row.text;
      slider.setAttribute("aria-valuetext", text.value);
    }
    this.rows = Object.fromEntries(rows.map((row) => [row.key, row]));
    this.tell();
  }

  field(row) {
    const id = row.key.replace(".", "-");
    const slider = element("input", { type: "range", id: `${id}-slider`, "aria-label": `${row.label}, slider`, min: row.least, max: row.most, step: row.step });
    const text = element("input", { type: "text", id, autocomplete: "off", spellcheck: "false", "aria-describedby": `${id}-note` });
    const note = element("div", { class: "note", id: `${id}-note` });
    slider.value = row.value;
    slider.addEventListener("input", () => {
      if (slider.dataset.held !== "yes") this.remember();
      slider.dataset.held = "yes";
      this.changes[row.key] = text.value = this.written(this.rows[row.key], Number(slider.value));
      this.forget(row.key);
      this.tell();
      this.page.cut(true);
    });
    slider.addEventListener("change", () => {
      slider.dataset.held = "no";
      this.page.cut(false);
    });
    text.addEventListener("change", () => {
      this.remember();
      this.changes[row.key] = text.value;
      this.forget(row.key);
      this.tell();
      this.page.cut(false);
    });
    return element("div", { class: "field", "data-key": row.key }, element("label", { for: id }, row.label), slider, text, note);
  }

  parts(key) {
    const field = this.place.querySelector(`[data-key="${key}"]`);
    return { field, slider: field?.querySelector("[type=range]"), text: field?.querySelector("[type=text]"), note: field?.querySelector(".note") };
  }

  // A value of a slider, as a maker would write it: 64ths of an inch as a fraction.
  written(row, value) {
    if (row.unit !== "in") return `${Number(value.toFixed(3))} ${row.unit}`;
    const all = Math.round(Math.abs(value) * 64), whole = Math.floor(all / 64);
    let parts = all - whole * 64, below = 64;
    while (parts && parts % 2 === 0) [parts, below] = [parts / 2, below / 2];
    const text = [whole || !parts ? whole : "", parts ? `${parts}/${below}` : ""].filter((piece) => piece !== "").join(" ");
    return `${value < 0 && text !== "0" ? "-" : ""}${text} in`;
  }

  remember() {
    this.past.push({ ...this.changes });
    this.status("");
  }

  undo() {
    if (this.past.length) this.set(this.past.pop());
  }

  become(changes) {
    this.remember();
    this.set(changes);
  }

  set(changes) {
    this.changes = { ...changes };
    for (const key of Object.keys(this.file)) this.forget(key);
    if (document.activeElement?.type === "text") document.activeElement.blur();
    this.page.cut(false);
  }

  // Show a refusal beside the field that it is about, or below them all.
  refuse(field, sentence) {
    const { text, note } = this.parts(field);
    if (text) {
      text.setAttribute("aria-invalid", "true");
      note.replaceChildren(element("span", { class: "refused" }, sentence));
    } else document.getElementById("refused").textContent = sentence;
  }

  forget(key) {
    document.getElementById("refused").textContent = "";
    this.parts(key).text?.removeAttribute("aria-invalid");
  }

  // What differs from the file.
  tell() {
    for (const [key, row] of Object.entries(this.file)) {
      const { field, text, note } = this.parts(key);
      if (!field || text.getAttribute("aria-invalid") === "true") continue;
      const differs = key in this.changes && this.changes[key] !== row.text;
      field.classList.toggle("changed", differs);
      if (!differs) note.replaceChildren();
      else if (!note.querySelector("button")) {
        const back = element("button", { type: "button", "aria-label": `${row.label}: back to ${row.text}` }, `file: ${row.text}`);
        back.addEventListener("click", () => {
          this.become(Object.fromEntries(Object.entries(this.changes).filter(([other]) => other !== key)));
        });
        note.replaceChildren(back);
      }
    }
    const words = Object.entries(this.changes).map(([key, value]) => {
      if (key === "passes.heights") return `passes at ${value.join(", ")}`;
      return this.file[key] && value !== this.file[key].text ? `${this.file[key].label} ${this.file[key].text} \u2192 ${value}` : "";
    }).filter(Boolean);
    document.getElementById("changed").textContent = words.length ? `Changed against the file: ${words.join("; ")}.` : "";
    this.buttons.undo.disabled = !this.past.length;
    this.buttons.back.disabled = this.buttons.save.disabled = !words.length;
  }

  status(words) {
    document.getElementById("status").textContent = words;
  }

  async solve() {
    this.status("Working out the set-up \u2026");
    const found = await this.page.ask("solve", { changes: this.changes });
    if (found) this.become({ ...this.changes, ...found.changes });
    this.status(found ? found.words : "");
  }

  async save() {
    const saved = await this.page.ask("save", { changes: this.changes });
    if (!saved) return;
    this.page.live.version = saved.version;
    this.changes = {};
    this.past = [];
    this.ofFile(saved.settings);
    this.status(`Saved to ${this.page.live.file}; comments and order are as they were.`);
  }
}
