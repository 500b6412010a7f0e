// One page, two lives: served, it asks for the simulation anew; sent as a file, it holds all that it shows.

import { asked } from "./asking.js";
import { listen } from "./controls.js";
import { by, element, input, say, select, the, write } from "./elements.js";
import { pageData } from "./held.js";
import { Player } from "./play.js";
import { openedAtSaw } from "./saw_door.js";
import { SawView } from "./saw_view.js";
import { drawDeviation, drawOver, drawSection } from "./section.js";
import { Served } from "./served.js";
import { Setups } from "./setups.js";
import { drawFlags, drawLegend, drawTable, markRow, tellWorst } from "./table.js";

/** @import { Come, Data, Kind, Stretch } from "./shown.d.ts" */

export class Page {
  share = 0.5; // of the feed of this pass
  fetching = false;
  /** @type {Stretch | null} */
  stretch = null;
  /** @type {SawView | null} */
  solid = null;
  /** @type {Served | null} */
  served = null;
  player = new Player(this);
  steps = "";
  stood = ""; // from where the saw was looked at before the finished moulding was

  /** @param {Data} data */
  constructor(data) {
    this.live = data.live;
    this.setups = new Setups(data);
    this.number = this.setups.goTo(1);
    this.units = data.model.units;
    this.words();
    listen(this);
    if (this.live) this.served = new Served(this, this.live);
    this.openSolid();
    this.look("operator");
    this.redraw();
    window.addEventListener("resize", () => {
      this.drawSections();
      this.setups.drawn = null; // another may suit the width
      this.drawSetups();
    });
  }

  // The last place of the pass slider: the last pass, or beyond it the finished moulding.
  get last() {
    return this.model.finished || this.model.passes.length;
  }

  get editor() {
    return this.served?.editor ?? null;
  }

  // That of the set-up that is shown.
  get model() {
    return this.setups.model;
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
      this.solid = new SawView(the("solid", HTMLCanvasElement), this.model, (number) => this.pick(number), () => this.writeOver());
    } catch (wrong) {
      document.body.classList.add("flat");
      say("reason", wrong instanceof Error ? wrong.message : String(wrong));
    }
  }

  words() {
    const { model } = this;
    const { title, set_up: headline, verdict, marks, forces, cautions } = model;
    for (const [id, words] of Object.entries({ title, headline, verdict, marks, forces, "cautions-words": cautions })) say(id, words);
    by("verdict-more").hidden = verdict.length < 200; // as long as that a phone folds it
    by("verdict").className = model.within === false ? "off" : "";
    document.title = title;
    drawTable(by("passes"), model, (number) => this.pick(number));
    drawFlags(by("flags"), model);
    if (this.steps !== model.steps) write(by("steps"), (this.steps = model.steps)); // while a slider is held it stays
    tellWorst(by("alert"), model.alert, (number) => this.go(number));
    input("pass").max = String(this.setups.last);
    this.drawSetups();
    for (const [place, set] of document.querySelectorAll("#setup dl").entries()) set.toggleAttribute("hidden", place !== this.setups.place);
  }

  drawSetups() {
    this.setups.draw((number) => this.go(number));
  }

  drawSections() {
    drawSection(by("section"), this.model, this.number, (number) => this.pick(number));
    const { beside } = this.served ?? {};
    beside?.draw(by("section"), this.model);
    this.served?.rungs.draw();
    this.solid?.lay((this.setups.atEnd && beside?.solid) || null);
    const has = Boolean(this.model.section[0].deviation);
    by("magnify-choice").hidden = !has;
    if (has && input("magnify").checked) drawDeviation(by("deviation"), this.model);
    else by("deviation").replaceChildren();
  }

  // What the colours say: the deviation only where there is a target.
  get kind() {
    const choice = select("colour");
    choice.options[1].disabled = !this.model.legends.deviation;
    if (choice.selectedOptions[0].disabled) choice.value = "pass";
    return /** @type {Kind} */ (choice.value);
  }

  // What is shown, in words.
  get what() {
    return this.one ? `${this.model.name ? `${this.model.name}, ` : ""}pass ${this.number}` : this.number ? "the finished moulding" : "the planed stock";
  }

  // The pass for who hears the page: its number, its height, and how near to which limit it comes.
  get inWords() {
    return this.one ? `pass ${this.at} of ${this.setups.passes}, ${this.one.told}` : this.what;
  }

  // Whether the finished moulding is shown: it lies on the bench, not on the running saw.
  get finished() {
    return this.number > this.model.passes.length;
  }

  // Everything that depends on the moment and on the colours.
  redraw() {
    if (this.solid && this.solid.made !== this.finished) {
      this.solid.made = this.finished;
      if (this.solid.view === "bench") this.solid.go("bench");
    }
    if (this.finished && this.solid?.view !== "bench") {
      this.stood = this.solid?.view ?? "operator";
      this.look("bench");
    } else if (!this.finished && this.stood) {
      const { stood } = this;
      this.stood = "";
      if (this.solid?.view === "bench") this.look(stood);
    }
    const count = this.setups.passes, { one } = this;
    input("pass").value = String(this.at);
    say("pass-words", one ? `${this.at} of ${count}` : this.number ? "all, finished" : `none of ${count}`);
    input("pass").ariaValueText = this.inWords;
    input("travel").disabled = !one;
    this.tellTravel();
    const named = one && this.setups.several ? [element("p", {}, element("strong", {}, this.model.name ?? ""), `, pass ${this.number} of ${this.model.passes.length}`)] : [];
    by("now").replaceChildren(...named, ...(one ? one.flags.map(({ message }) => element("p", { class: "alarm" }, `! ${message}.`)) : [element("p", { class: "faint" }, this.what)]));
    markRow(by("passes"), this.number);
    drawLegend(by("legend"), this.model, this.kind);
    this.drawSections();
    this.showSolid(true);
    this.writeOver();
  }

  // What is written over the picture, while the camera stands square to it.
  writeOver() {
    const above = this.solid?.over && this.solid.view === "above";
    drawOver(by("over"), this.solid?.over ?? null, this.number);
    say("pull", above ? (this.one?.pull ?? []).join("; ") : "");
  }

  tellTravel() {
    const { one } = this, mm = this.travel ?? one?.end;
    const words = mm === undefined ? "" : this.units === "mm" ? `${Math.round(mm)} mm` : `${(mm / 25.4).toFixed(1)} in`;
    input("travel").value = String(Math.round(1000 * this.share));
    say("travel-words", words);
    input("travel").ariaValueText = `${words} past the blade`;
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
    const come = model.stretches[number] ?? [], found = come.find((one) => one.first <= travel && travel <= one.last);
    if (!found) return void this.fetchFeed(number);
    if (found === this.stretch && !anew) return this.solid.shiftTo(travel, found.at);
    this.stretch = found;
    this.solid.show(found, number, travel, found.at, this.kind);
  }

  /** @param {number} number */
  async fetchFeed(number) {
    if (!this.served || this.fetching) return;
    const { model } = this;
    this.fetching = true;
    const reply = await this.ask("feed", { changes: this.served.shown, pass: number, place: this.setups.place });
    this.fetching = false;
    if (!reply) return this.player.pause();
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
    this.words();
  }

  /** @param {string} view */
  look(view) {
    if (!this.solid) return;
    if (this.finished && view !== "bench") this.pick(this.model.passes.length, 1);
    this.solid.go(view);
    select("view").value = view;
    for (const button of by("views").querySelectorAll("button")) button.ariaPressed = String(button.dataset.view === view);
  }

  /** @param {Come} come */
  become(come) {
    const atEnd = this.at === this.setups.last, atLast = this.number === this.last, { place } = this.setups;
    const sent = come.rest ? null : { blade: come.model.blade }; // what the picture has need not go to it again
    this.setups.take(come);
    const { model } = this;
    if (atEnd) this.number = this.setups.goTo(this.setups.last);
    else this.number = atLast && place === this.setups.place ? model.passes.length : Math.min(this.number, model.passes.length);
    this.solid?.put({ ...model, ...sent });
    if (this.solid?.placed) this.solid.go(this.solid.view);
    this.words();
    this.redraw();
    this.solid?.now();
  }

  /**
   * Ask the program that serves the page; null where it refuses, and then its sentence stands among the notices.
   * @param {string} path
   * @param {object} more
   * @returns {Promise<any>}
   */
  async ask(path, more) {
    const reply = await asked(path, { version: this.live?.version, units: this.units, ...more });
    this.served?.watch.there(!reply.stopped);
    say("notices", reply.sentence);
    if (!reply.sentence) return reply.answer;
    if (this.live) say("status", "");
    return null;
  }
}

// Where a browser's console and the tests find it.
pageData().then((/** @type {Data} */ data) => Object.assign(window, { sweepPage: new Page(data), sweepSaw: data.saw ? openedAtSaw(data.saw) : null }));
