// One page, two lives: served, it asks for the simulation anew; sent as a file, it holds all that it shows.

import { asked } from "./asking.js";
import { become } from "./become.js";
import { Beside } from "./beside.js";
import { Editor } from "./edits.js";
import { by, element, say, the } from "./elements.js";
import { Watch } from "./elsewhere.js";
import { SawView } from "./saw_view.js";
import { drawDeviation, drawSection, sectionWidth } from "./section.js";
import { Setups } from "./setups.js";
import { drawSteps } from "./steps.js";
import { drawFlags, drawLegend, drawTable, markRow, tellWorst } from "./table.js";

/** @import { Data, Edit, Kind, Model, Setting, State, Stretch, Units, Value } from "./shown.d.ts" */

const PASS_TIME = 4000; // milliseconds that a pass is played in
const LATE = 150; // milliseconds after which the picture is said to lag behind

class Page {
  /** @type {Kind} */
  kind = "pass";
  share = 1; // of the feed of this pass
  playing = false;
  fetching = false;
  /** @type {Record<string, Value>} What the page shows came of these. */
  shown = {};
  /** @type {Stretch | null} */
  stretch = null;
  /** @type {SawView | null} */
  solid = null;
  /** @type {Editor | null} */
  editor = null;
  waiting = 0;
  beside = new Beside();
  stood = ""; // from where the saw was looked at before the finished moulding was
  gone = false; // whether the program has stopped
  /** @type {{ part: string, edit: Edit }[]} What was worked out and is neither taken nor left. */
  offer = [];
  /** @type {(away: boolean) => void} */
  noticed = () => {};

  /** @param {Data} data */
  constructor(data) {
    this.live = data.live;
    this.files = data.files;
    this.setups = new Setups(data);
    this.number = this.setups.goTo(this.setups.last);
    this.units = data.model.units;
    this.words();
    this.controls();
    if (this.live) this.edit(new Editor(this, this.live));
    else this.tellSettings(this.model.settings ?? data.settings);
    this.openSolid();
    this.redraw();
    window.addEventListener("resize", () => {
      this.drawSections();
      this.drawSetups();
    });
  }

  // The last place of the pass slider: the last pass, or beyond it the finished moulding.
  get last() {
    return this.model.finished || this.model.passes.length;
  }

  // That of the set-up that is shown.
  get model() {
    return this.setups.model;
  }

  set model(model) {
    this.setups.model = model;
  }

  // The place of the pass slider: passes are counted on through all set-ups.
  get at() {
    return this.setups.before + this.number;
  }

  get one() {
    return this.model.passes[this.number - 1];
  }

  // How far the stock has gone, mm; null after the whole pass.
  get travel() {
    if (!this.one || this.share >= 1) return null;
    return this.one.start + this.share * (this.one.end - this.one.start);
  }

  openSolid() {
    try {
      this.solid = new SawView(the("solid", HTMLCanvasElement), this.model, (number) => this.pick(number));
    } catch (wrong) {
      by("solid").hidden = true;
      by("views").hidden = true;
      by("no-solid").hidden = false;
      const reason = wrong instanceof Error ? wrong.message : String(wrong);
      say("no-solid", `There is no 3D picture here: ${reason}. The section and the table below are complete without it.`);
    }
  }

  words() {
    const { model } = this;
    say("title", model.title);
    say("headline", model.set_up);
    say("verdict", model.verdict);
    say("marks", model.marks);
    say("forces", model.forces);
    say("cautions-words", model.cautions);
    by("verdict").className = model.within === null ? "" : model.within ? "within" : "off";
    document.title = model.title;
    drawTable(by("passes"), model, (number) => this.pick(number));
    drawFlags(by("flags"), model);
    drawSteps(by("steps"), model.steps);
    tellWorst(by("alert"), model, (number) => this.pick(number));
    the("pass", HTMLInputElement).max = String(this.setups.last);
    this.drawSetups();
  }

  drawSetups() {
    this.setups.draw((number) => this.go(number));
  }

  /**
   * What the saw is set to, on a page that cannot change it.
   * @param {Setting[]} rows
   */
  tellSettings(rows) {
    by("set").replaceChildren(...rows.flatMap((row) => [element("dt", {}, row.label), element("dd", {}, row.text)]));
  }

  /** @param {Editor} editor */
  edit(editor) {
    this.editor = editor;
    const watch = new Watch({
      version: () => editor.live.version,
      away: (away) => this.away(editor, away),
      changed: () => editor.dirty,
      take: () => editor.take(),
    }, this.units);
    this.noticed = (away) => watch.there(!away);
    setTimeout(() => editor.restore());
    by("solve").addEventListener("click", () => this.solve(editor));
    by("lay-beside").addEventListener("click", () => {
      this.beside.changes = { ...this.shown };
      this.compare();
    });
    by("beside").addEventListener("click", ({ target }) => {
      if (!(target instanceof Element) || target.id !== "take-away") return;
      this.beside.takeAway();
      by("lay-beside").focus();
      this.drawSections();
    });
    by("proposal").addEventListener("click", ({ target }) => {
      const answer = target instanceof HTMLElement ? target.dataset.proposal : null;
      if (answer) this.decide(editor, answer);
    });
    by("cards").addEventListener("click", ({ target }) => {
      const number = target instanceof Element ? target.closest("button")?.dataset.pick : null;
      if (number) this.pick(Number(number));
    });
  }

  /** @param {Editor} editor */
  async solve(editor) {
    say("status", "Working out the set-up \u2026");
    const found = await this.ask("solve", { changes: editor.changes });
    say("status", "");
    if (!found) return;
    this.offer = found.edits;
    become(by("proposal"), found.shown);
    by("proposal").querySelector("button")?.focus();
  }

  /**
   * The file has another text now: what lies beside is told against that, where it is known how the two differ.
   * @param {Record<string, Value> | null} back
   */
  rebased(back) {
    if (back && this.beside.changes) this.beside.changes = { ...back, ...this.beside.changes };
    else this.beside.takeAway();
  }

  // What lies beside, told against what is shown now.
  async compare() {
    if (!this.beside.changes) return;
    const answer = await this.ask("beside", { changes: this.shown, beside: this.beside.changes });
    if (!answer || !this.beside.changes) return;
    this.beside.put(answer);
    this.drawSections();
  }

  /**
   * A proposal is taken, in the parts that are ticked, or left.
   * @param {Editor} editor
   * @param {string} answer
   */
  decide(editor, answer) {
    const parts = [...by("proposal").querySelectorAll("input")].filter((one) => one.checked).map((one) => one.dataset.part);
    by("proposal").replaceChildren();
    by("solve").focus();
    if (answer === "take") editor.do(this.offer.filter(({ part }) => parts.includes(part)).map(({ edit }) => edit), "what was worked out");
  }

  /**
   * The program has stopped, or is there again: the picture itself says so.
   * @param {Editor} editor
   * @param {boolean} away
   */
  away(editor, away) {
    this.gone = away;
    document.body.classList.toggle("away", away);
    by("gone").hidden = !away;
    if (!away) {
      say("notices", "");
      return void editor.resume();
    }
    const at = new Date().toTimeString().slice(0, 5), count = Object.keys(editor.state.changes).length;
    const what = this.one ? `pass ${this.number}` : this.number ? "the finished moulding" : "the planed stock";
    say("gone", `sweep has stopped. This is ${what} as of ${at}. ${count} change${count === 1 ? " is" : "s are"} kept here.`);
  }

  // The moment that is shown, for a slider that is held.
  moment() {
    return { pass: this.number, travel: this.travel, width: sectionWidth(by("section"), this.model) };
  }

  /**
   * What the picture does not show yet; nothing once it does.
   * @param {string} words
   */
  lag(words) {
    clearTimeout(this.waiting);
    by("lag").hidden = true;
    document.body.classList.remove("behind");
    if (!words) return;
    this.waiting = setTimeout(() => {
      say("lag", `Not shown yet: ${words}`);
      by("lag").hidden = false;
      document.body.classList.add("behind");
    }, LATE);
  }

  drawSections() {
    drawSection(by("section"), this.model, this.number, (number) => this.pick(number));
    this.beside.draw(by("section"), this.model);
    const has = Boolean(this.model.section[0].deviation);
    by("magnify-choice").hidden = !has;
    if (has && the("magnify", HTMLInputElement).checked) drawDeviation(by("deviation"), this.model);
    else by("deviation").replaceChildren();
  }

  // Whether the finished moulding is shown: it lies on the bench, not on the running saw.
  get finished() {
    return this.number > this.model.passes.length;
  }

  // Everything that depends on the moment and on the colours.
  redraw() {
    if (this.finished && this.solid?.view !== "bench") {
      this.stood = this.solid?.view ?? "operator";
      this.look("bench");
    } else if (!this.finished && this.stood) {
      const { stood } = this;
      this.stood = "";
      if (this.solid?.view === "bench") this.look(stood);
    }
    const count = this.setups.passes, { one } = this;
    the("pass", HTMLInputElement).value = String(this.at);
    say("pass-words", one ? `${this.at} of ${count}` : this.number ? "all, finished" : `none of ${count}`);
    const travel = the("travel", HTMLInputElement);
    travel.disabled = !one;
    travel.value = String(Math.round(1000 * this.share));
    this.tellTravel();
    const aside = this.number ? "the finished moulding" : "the planed stock";
    const named = one && this.setups.several ? [element("p", {}, element("strong", {}, this.model.name ?? ""), `, pass ${this.number} of ${this.model.passes.length}`)] : [];
    by("now").replaceChildren(...named, ...(one ? one.flags.map(({ message }) => element("p", { class: "alarm" }, `! ${message}.`)) : [element("p", { class: "faint" }, aside)]));
    markRow(by("passes"), this.number);
    drawLegend(by("legend"), this.model, this.kind);
    this.drawSections();
    this.showSolid(true);
  }

  tellTravel() {
    const { one } = this, mm = this.travel ?? one?.end;
    say("travel-words", mm === undefined ? "" : this.units === "mm" ? `${Math.round(mm)} mm` : `${(mm / 25.4).toFixed(1)} in`);
  }

  /**
   * The stock at this moment; a pass under way comes from the stretches of its feed.
   * @param {boolean} anew
   */
  showSolid(anew) {
    if (!this.solid) return;
    const { model, number, travel } = this;
    if (travel === null) {
      this.stretch = null;
      const mesh = model.stages[number], { passes } = model;
      if (!mesh) return this.editor?.again(); // only what was dragged has come so far
      const gone = this.one?.end ?? (number ? passes[passes.length - 1].end : passes[0].start);
      this.solid.show(mesh, number, gone, null, this.kind);
      return;
    }
    const come = model.stretches[number] ?? [], found = come.find((one) => travel <= one.last) ?? come[come.length - 1];
    if (!found) return void this.fetchFeed(number);
    if (found === this.stretch && !anew) return this.solid.shiftTo(travel, found.at);
    this.stretch = found;
    this.solid.show(found, number, travel, found.at, this.kind);
  }

  /** @param {number} number */
  async fetchFeed(number) {
    if (!this.live || this.fetching) return;
    const { model } = this;
    this.fetching = true;
    const reply = await this.ask("feed", { changes: this.shown, pass: number });
    this.fetching = false;
    if (!reply) return this.pause();
    if (model === this.model) model.stretches[number] = reply.stretches;
    this.showSolid(true);
  }

  /**
   * @param {number} number
   * @param {number} share
   */
  pick(number, share = number === this.number ? this.share : 1) {
    this.go(this.setups.before + number, share);
  }

  /**
   * Go to a pass whose number is counted on through all set-ups.
   * @param {number} at
   * @param {number} share
   */
  go(at, share = at === this.at ? this.share : 1) {
    const { place } = this.setups;
    this.number = this.setups.goTo(Math.max(0, Math.min(this.setups.last, at)));
    this.share = share;
    if (place !== this.setups.place) this.turnOver();
    this.redraw();
  }

  // The saw is set anew, and the stock laid for it.
  turnOver() {
    this.stretch = null;
    this.solid?.put(this.model);
    this.solid?.go(this.solid.view);
    if (this.model.settings) this.tellSettings(this.model.settings);
    this.words();
  }

  controls() {
    /** @type {[Kind, string][]} */
    const kinds = [["pass", "pass"], ["deviation", "deviation from the target"], ["chip", "chip load"], ["wood", "wood"]];
    const colour = the("colour", HTMLSelectElement), through = the("through", HTMLInputElement);
    const pass = the("pass", HTMLInputElement), travel = the("travel", HTMLInputElement);
    for (const [value, words] of kinds) {
      if (value !== "deviation" || this.model.legends.deviation) colour.append(element("option", { value }, words));
    }
    colour.addEventListener("change", () => {
      this.kind = /** @type {Kind} */ (colour.value);
      this.redraw();
    });
    through.addEventListener("change", () => {
      if (!this.solid) return;
      this.solid.through = through.checked;
      this.solid.ask();
    });
    by("magnify").addEventListener("change", () => this.drawSections());
    pass.addEventListener("input", () => {
      this.pause();
      this.go(Number(pass.value));
    });
    travel.addEventListener("input", () => {
      this.pause();
      this.share = Number(travel.value) / 1000;
      this.tellTravel();
      this.showSolid(false);
    });
    by("play").addEventListener("click", () => (this.playing ? this.pause() : this.play()));
    this.model.views.forEach(({ name, words }, k) => {
      const button = element("button", { type: "button", "aria-pressed": String(!k), "data-view": name }, words);
      button.addEventListener("click", () => this.look(name));
      by("views").append(button);
    });
    for (const name of this.live ? this.live.files : Object.keys(this.files)) by("files").append(this.download(name));
    if (this.live) this.chooseUnits(the("units", HTMLSelectElement));
    by("solid").addEventListener("keydown", (event) => this.key(event));
  }

  /** @param {HTMLSelectElement} choice */
  chooseUnits(choice) {
    for (const [value, words] of [["mm", "mm"], ["in", "fractions of an inch"], ["in-decimal", "decimal inches"]]) {
      choice.append(element("option", { value }, words));
    }
    choice.value = this.units;
    choice.addEventListener("change", () => {
      this.units = /** @type {Units} */ (choice.value);
      this.editor?.again();
    });
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const view = this.model.views[Number(event.key) - 1];
    if (event.key === " ") {
      if (this.playing) this.pause();
      else this.play();
    } else if (event.key === "PageUp") this.pick(this.number + 1);
    else if (event.key === "PageDown") this.pick(this.number - 1);
    else if (view) this.look(view.name);
    else return;
    event.preventDefault();
  }

  /** @param {string} view */
  look(view) {
    if (!this.solid) return;
    if (this.finished && view !== "bench") this.pick(this.model.passes.length, 1);
    this.solid.go(view);
    for (const button of by("views").querySelectorAll("button")) button.setAttribute("aria-pressed", String(button.dataset.view === view));
  }

  play() {
    const { last, passes } = this.setups;
    if (this.share >= 1) this.go(this.at % last % passes + 1, 0);
    this.playing = true;
    say("play", "Pause");
    let before = performance.now();
    /** @param {number} now */
    const step = (now) => {
      if (!this.playing) return;
      const share = this.share + (now - before) / PASS_TIME;
      before = now;
      if (share < 1) {
        this.share = share;
        the("travel", HTMLInputElement).value = String(Math.round(1000 * share));
        this.tellTravel();
        this.showSolid(false);
      } else if (this.at < passes) this.go(this.at + 1, 0);
      else {
        this.go(last, 1);
        return this.pause();
      }
      requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }

  pause() {
    this.playing = false;
    say("play", "Play");
  }

  /** @param {string} name */
  download(name) {
    if (!this.live) {
      const kind = name.endsWith(".pdf") ? "application/pdf" : "application/octet-stream";
      return element("a", { class: "button", href: `data:${kind};base64,${this.files[name]}`, download: name }, name);
    }
    const button = element("button", { type: "button" }, name);
    button.addEventListener("click", async () => {
      const blob = await this.ask(`file/${name}`, { changes: this.shown });
      if (!blob) return;
      const link = element("a", { href: URL.createObjectURL(blob), download: name });
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    });
    return button;
  }

  /** @param {{ model: Model, state: State, forms?: string }} reply */
  become(reply) {
    const blade = reply.model.blade || this.model.blade, wasLast = this.number === this.last;
    const views = reply.model.views.length ? reply.model.views : this.model.views; // none come while a slider is held
    this.model = { ...reply.model, blade, views };
    this.shown = Object.fromEntries(Object.entries(reply.state.changes).map(([path, pair]) => [path, pair[1]]));
    this.number = wasLast ? this.last : Math.min(this.number, this.last);
    if (reply.forms) {
      this.editor?.put(reply.forms);
      this.compare();
    }
    this.solid?.put({ ...reply.model, views });
    this.words();
    this.redraw();
  }

  /**
   * Ask the program that serves the page; null where it refuses, and then its sentence stands among the notices.
   * @param {string} path
   * @param {object} more
   * @returns {Promise<any>}
   */
  async ask(path, more) {
    const reply = await asked(path, { version: this.live?.version, units: this.units, ...more });
    this.noticed(reply.stopped);
    say("notices", reply.sentence);
    if (!reply.sentence) return reply.answer;
    if (this.live) say("status", "");
    return null;
  }
}

// Where a browser's console and the tests find it.
Object.assign(window, { sweepPage: new Page(JSON.parse(by("data").textContent ?? "")) });
