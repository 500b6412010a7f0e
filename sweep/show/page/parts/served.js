// What only a page that is served does: its scene is changed, and what is worked out anew lags behind the hand.

import { become } from "./become.js";
import { Beside } from "./beside.js";
import { Editor } from "./edits.js";
import { button, by, handOver, on, say, select } from "./elements.js";
import { Watch } from "./elsewhere.js";
import { keepBeside, keptBeside } from "./keeping.js";
import { Rungs } from "./rungs.js";
import { sectionWidth } from "./section.js";

/** @import { Come, Edit, Live, State, Units, Value } from "./shown.d.ts" */
/** @import { Page } from "./page.js" */

const QUIET = 1000; // milliseconds after the last change, before it is told to who hears the page
const ASKING = "#solve, #lay-beside, #units, #files button"; // what does nothing without the program
const LATE = 150; // milliseconds after which the picture is said to lag behind

export class Served {
  /** @type {Record<string, Value>} What the page shows came of these. */
  shown = {};
  beside = new Beside();
  gone = false; // whether the program has stopped
  waiting = 0;
  telling = 0;
  /** @type {{ part: string, edit: Edit }[]} What was worked out and is neither taken nor left. */
  offer = [];
  solved = ""; // for which changes, in JSON
  compared = ""; // with which changes

  /**
   * @param {Page} page
   * @param {Live} live
   */
  constructor(page, live) {
    this.page = page;
    const editor = this.editor = new Editor(this, live);
    this.watch = new Watch(editor, page.units, (away) => this.away(away));
    this.rungs = new Rungs(page, editor);
    this.beside.changes = keptBeside(live.scene, live.version);
    setTimeout(async () => {
      await editor.restore();
      this.compare();
    });
    this.listen();
    for (const name of live.files) by("files").append(button(() => this.download(name), {}, name));
  }

  listen() {
    const { page } = this;
    on("units", "change", () => {
      page.units = /** @type {Units} */ (select("units").value);
      this.editor.again();
    });
    on("solve", "click", () => this.solve());
    on("lay-beside", "click", () => {
      this.lay({ ...this.shown });
      this.compare();
    });
    on("beside", "click", ({ target }) => {
      if (!(target instanceof Element) || target.id !== "take-away") return;
      this.lay(null);
      by("lay-beside").focus();
      page.drawSections();
    });
    on("proposal", "click", ({ target }) => {
      const answer = target instanceof HTMLElement ? target.dataset.proposal : null;
      if (answer) this.decide(answer);
    });
    on("cards", "click", ({ target }) => {
      const { pick, setup } = (target instanceof Element && target.closest("button")?.dataset) || {};
      if (pick) page.go(page.setups.passOf(Number(setup ?? 0), Number(pick)));
    });
    on("cards", "toggle", ({ target }) => {
      if (target instanceof HTMLDetailsElement && target.open && target.dataset.setup) this.turnTo(Number(target.dataset.setup));
    }, true); // it does not rise
    on("cards", "input", ({ target }) => {
      const form = target instanceof Element && target.matches("[type=range]") && target.closest("details")?.dataset.setup;
      if (form) this.turnTo(Number(form));
    }, true);
  }

  /**
   * The set-up that is changed is on the saw in the picture.
   * @param {number} setup
   */
  turnTo(setup) {
    const { page } = this, { model } = page;
    if (model.of === setup && !page.finished) return;
    page.go(page.setups.passOf(setup, 1) - 1 + (page.setups.models.find(({ of }) => of === setup)?.passes.length ?? 1));
  }

  /**
   * @param {string} path
   * @param {object} more
   */
  ask(path, more) {
    return this.page.ask(path, more);
  }

  /** @param {Come & { state: State, forms?: string, lines?: Record<string, string> }} reply */
  become(reply) {
    this.shown = Object.fromEntries(Object.entries(reply.state.changes).map(([path, pair]) => [path, pair[1]]));
    const before = this.page.setups.count;
    if (reply.forms) this.editor.put(reply.forms);
    for (const [name, words] of Object.entries(reply.lines ?? {})) say(`line-${name}`, words);
    this.page.become(reply);
    document.body.classList.toggle("old", !reply.forms);
    this.mark();
    if (!reply.forms) return;
    by("short").hidden = !document.querySelector("#card-after .refused");
    this.tell();
    this.compare();
    if (this.page.setups.count > before) this.open(this.page.setups.count - 1);
  }

  // What was worked out for a job that has been changed since says so; so does what lies beside until it is told anew.
  mark() {
    const now = JSON.stringify(this.shown);
    by("proposal").classList.toggle("old", this.solved !== now);
    by("beside").classList.toggle("old", this.compared !== now);
  }

  // What came of a change, a moment after the last one, for who hears the page.
  tell() {
    clearTimeout(this.telling);
    const { alert, set_up: setUp, verdict } = this.page.model;
    this.telling = setTimeout(() => say("told", `${setUp}. ${verdict} ${alert.words}`), QUIET);
  }

  /**
   * A set-up that is new is seen, with its form.
   * @param {number} setup
   */
  open(setup) {
    const form = document.getElementById(`form-setups-${setup}`);
    if (!(form instanceof HTMLDetailsElement)) return;
    form.open = true;
    form.querySelector("summary")?.focus();
  }

  async solve() {
    say("status", "Working out the set-up \u2026");
    const { changes } = this.editor, found = await this.ask("solve", { changes });
    say("status", "");
    if (!found) return;
    this.offer = found.edits;
    this.solved = JSON.stringify(changes);
    become(by("proposal"), found.shown);
    this.mark();
    by("proposal").querySelector("h2")?.focus(); // what is proposed, and why, is read before it is taken
    by("proposal").scrollIntoView();
  }

  /**
   * A proposal is taken, in the parts that are ticked, or left.
   * @param {string} answer
   */
  decide(answer) {
    const parts = [...by("proposal").querySelectorAll("input")].filter((one) => one.checked).map((one) => one.dataset.part);
    by("proposal").replaceChildren();
    by("solve").focus();
    if (answer === "take") this.editor.do(this.offer.filter(({ part }) => parts.includes(part)).map(({ edit }) => edit), "what was worked out");
  }

  /**
   * The file has another text now: what lies beside is told against that, where it is known how the two differ.
   * @param {Record<string, Value> | null} back
   */
  rebased(back) {
    this.lay(back && this.beside.changes && { ...back, ...this.beside.changes });
  }

  /**
   * Let something lie beside, through a reload too: the scene as it is changed so; or nothing.
   * @param {Record<string, Value> | null} changes
   */
  lay(changes) {
    const { scene, version } = this.editor.live;
    if (changes) this.beside.changes = changes;
    else this.beside.takeAway();
    keepBeside(scene, version, changes);
  }

  // What lies beside, told against what is shown now.
  async compare() {
    if (!this.beside.changes) return;
    const { shown } = this, answer = await this.ask("beside", { changes: shown, beside: this.beside.changes });
    if (!answer || !this.beside.changes) return;
    this.beside.put(answer);
    this.compared = JSON.stringify(shown);
    this.mark();
    this.page.drawSections();
  }

  /**
   * The program has stopped, or is there again: the picture itself says so.
   * @param {boolean} away
   */
  away(away) {
    this.gone = away;
    document.body.classList.toggle("away", away);
    by("gone").hidden = !away;
    for (const control of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll(ASKING))) control.disabled = away;
    if (!away) {
      say("notices", "");
      return void this.editor.resume();
    }
    const at = new Date().toTimeString().slice(0, 5), count = Object.keys(this.editor.state.changes).length;
    const { model, what } = this.page;
    say("gone", `sweep has stopped. This is ${what} as of ${at}, ${model.fence}.${count ? ` ${count} change${count === 1 ? " is" : "s are"} kept here.` : ""}`);
  }

  // The moment that is shown, for a slider that is held.
  moment() {
    const { page } = this;
    return { pass: page.number, place: page.setups.place, travel: page.travel, width: sectionWidth(by("section"), page.model) };
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

  /**
   * A file of the job as it is changed, made when it is asked for.
   * @param {string} name
   */
  async download(name) {
    const blob = await this.ask(`file/${name}`, { changes: this.shown });
    if (blob) handOver(blob, name);
  }
}
