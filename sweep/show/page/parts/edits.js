// What a maker does to the scene: each gesture is tried by the program, can be undone, and can be saved.

import { become, follow, isControl } from "./become.js";
import { button, by, on, say, usable } from "./elements.js";
import { listen } from "./forms.js";
import { keep, keptOf } from "./keeping.js";
import { after, again, laidOver, rebased } from "./states.js";

/** @import { Desk, Gesture } from "./gesture.d.ts" */
/** @import { Edit, Live, State, Value } from "./shown.d.ts" */

const PAUSE = 2000; // milliseconds until what could not be taken up is asked for again

export class Editor {
  /** @type {State[]} */
  past = [];
  /** @type {State[]} */
  future = [];
  /** @type {Gesture[]} */
  queue = [];
  working = false;
  wanted = false; // whether to save once all is worked out
  asking = 0;
  /** @type {Promise<unknown>} */
  last = Promise.resolve(); // of what is asked for one after the other

  /**
   * @param {Desk} desk
   * @param {Live} live
   */
  constructor(desk, live) {
    this.desk = desk;
    this.live = live;
    this.state = live.state;
    this.forms = /** @type {Element} */ (by("cards").cloneNode(true)); // as they were sent
    this.before = keptOf(live.scene); // what this page held before it was loaded anew
    on("undo", "click", () => this.turn("undo"));
    on("redo", "click", () => this.turn("redo"));
    on("save", "click", () => this.save());
    listen(this);
    window.addEventListener("beforeunload", (event) => this.dirty && event.preventDefault());
    this.tell();
  }

  // Whether something would be lost with the page.
  get dirty() {
    return Boolean(this.before || this.queue.length || this.state.refused.length || Object.keys(this.state.changes).length);
  }

  // Take up what this page held before it was loaded anew; a program that has no time for it is asked again.
  async restore() {
    const kept = this.before;
    if (!kept) return;
    const count = Object.keys(kept.state.changes).length + kept.state.refused.length;
    while (!(await this.take())) await new Promise((done) => setTimeout(done, PAUSE));
    const drop = button(() => {
      by("elsewhere-done").replaceChildren();
      this.drop();
    }, {}, "Drop");
    by("elsewhere-done").replaceChildren(`${count} change${count === 1 ? "" : "s"} from before the reload. `, drop);
  }

  /**
   * Ask for something once all that was asked before is answered: an answer that is late would undo what came since.
   * @template T
   * @param {() => Promise<T>} question
   * @returns {Promise<T>}
   */
  alone(question) {
    this.asking++;
    const answer = this.last.then(question).finally(() => this.asking--);
    this.last = answer.catch(() => null);
    return answer;
  }

  // Lay what is changed over the file as it is now; where another hand changed the same, that is told.
  take() {
    return this.alone(() => this.takeNow());
  }

  async takeNow() {
    const { before } = this, states = before ? [before.state, this.state] : [this.state];
    const reply = await this.desk.ask("take", { changes: {}, edits: states.flatMap(laidOver) });
    if (!reply) return false;
    if (before) [this.past, this.future, this.before] = [before.past, before.future, null];
    if (reply.version !== this.live.version) this.desk.rebased(null);
    this.live.version = reply.version;
    this.state = reply.state;
    this.desk.become(reply);
    this.tell();
    return true;
  }

  // The program is there again: what was waiting is asked for.
  async resume() {
    if (this.dirty) await this.take();
    this.work();
  }

  drop() {
    this.enter({ edits: [], turn: { changes: {}, refused: [] }, words: "all changes dropped" });
  }

  /** @returns {Record<string, Value>} */
  get changes() {
    return after(this.state);
  }

  // Whether nothing is being asked; a slider may be held, and stand still.
  get idle() {
    return !this.working && !this.asking && this.queue.every((gesture) => gesture.held);
  }

  /**
   * What is changed is written into another file; this one, and the changes, stay as they are.
   * @param {string} name
   */
  async copy(name) {
    const reply = await this.desk.ask("copy", { changes: this.changes, name });
    if (reply) say("status", `Saved as ${reply.file}; ${this.live.file} is as it was.`);
  }

  /**
   * A section of this job becomes the shop's, for every job that says nothing else.
   * @param {string} section
   */
  async toShop(section) {
    const reply = await this.alone(() => this.desk.ask(`shop/${section}`, { changes: this.changes, edits: this.state.refused.map((one) => one.edit) }));
    if (!reply) return;
    this.desk.become(reply);
    say("status", `The shop has it now: shop.toml beside ${this.live.file}.`);
  }

  /** @param {string} path */
  leave(path) {
    this.enter({ edits: [], turn: { ...this.state, refused: this.state.refused.filter((one) => one.edit.path !== path) }, words: "" });
  }

  /**
   * What was refused because another hand changed the same is written all the same.
   * @param {string} path
   */
  mine(path) {
    const held = this.state.refused.find((one) => one.edit.path === path);
    if (held) this.do([{ ...held.edit, over: [] }], "");
  }

  /**
   * A slider that is held stands elsewhere; only the latest place is asked for.
   * @param {Edit} edit
   * @param {string} words
   */
  move(edit, words) {
    const last = this.queue.at(-1), edits = [edit];
    if (last?.held) Object.assign(last, { edits, words, moved: (last.moved ?? 0) + 1 });
    else this.queue.push({ edits, held: true, words, moved: 1 });
    this.work();
  }

  release() {
    for (const gesture of this.queue) gesture.held = false;
    this.work();
  }

  /**
   * @param {Edit[]} edits
   * @param {string} words
   */
  do(edits, words) {
    this.enter({ edits, words });
  }

  /** @param {"undo" | "redo"} turn */
  turn(turn) {
    const active = document.activeElement;
    if (isControl(active)) delete active.dataset.typing;
    this.enter({ edits: [], turn, words: "" });
  }

  // The same scene once more: in other units, or whole.
  again() {
    if (this.idle && !this.queue.length) this.enter({ edits: [], turn: "again", words: "" });
  }

  /** @param {Gesture} gesture */
  enter(gesture) {
    for (const before of this.queue) before.held = false; // a slider that is let go of by doing something else
    this.queue.push(gesture);
    this.tell();
    this.work();
  }

  // Ask for what is to be worked out, one gesture after the other; of one that is held only the latest place.
  async work() {
    if (this.working) return;
    this.working = true;
    while (this.queue.length) {
      const [gesture] = this.queue;
      const { held, moved } = await this.alone(() => this.cut(gesture));
      if (this.desk.gone) break; // it is asked for once the program is there again
      if (!held) this.queue.shift();
      else if (gesture.held && gesture.moved === moved) break; // it stands still, and is not let go
    }
    this.working = false;
    this.tell();
    if (!this.wanted || this.desk.gone) return;
    this.wanted = false;
    this.save();
  }

  /**
   * Ask for what a gesture makes of the scene.
   * @param {Gesture} gesture
   * @returns {Promise<{ held?: boolean, moved?: number }>} How it stood when it was asked for: it may be let go of since.
   */
  async cut(gesture) {
    const from = this.origin(gesture), { held, moved } = gesture, asked = { held, moved };
    if (!from) return asked;
    const edits = [...gesture.edits, ...again(from, gesture.edits)]; // the last one is blamed for what has no place
    this.desk.lag(gesture.words);
    const reply = await this.desk.ask("cut", { changes: after(from), edits, ...(held ? this.desk.moment() : {}) });
    this.desk.lag("");
    if (reply && !held) this.took(gesture, reply.state);
    if (reply) this.desk.become(reply);
    else if (!held && !this.desk.gone) this.undone(gesture);
    return asked;
  }

  /**
   * What was not done does not stand in the forms as if it were, nor for long in the picture, where it was held.
   * @param {Gesture} gesture
   */
  undone({ turn }) {
    follow(by("cards"), this.forms);
    if (turn === "again" || document.body.classList.contains("old")) setTimeout(() => this.again(), PAUSE);
  }

  /**
   * The state that a gesture begins from; null where there is none to go back to.
   * @param {Gesture} gesture
   */
  origin({ turn }) {
    if (turn === "undo") return this.past.at(-1) ?? null;
    if (turn === "redo") return this.future.at(-1) ?? null;
    return turn === "again" || !turn ? this.state : turn;
  }

  /**
   * @param {Gesture} gesture
   * @param {State} state
   */
  took({ turn }, state) {
    if (turn === "undo") {
      this.past.pop();
      this.future.push(this.state);
    } else if (turn === "redo") {
      this.future.pop();
      this.past.push(this.state);
    } else if (turn !== "again" && JSON.stringify(state) !== JSON.stringify(this.state)) {
      this.past.push(this.state);
      this.future = [];
    }
    this.state = state;
  }

  /** @param {string} html */
  put(html) {
    this.forms = become(by("cards"), html);
  }

  // What can be undone, and what saving would write.
  tell() {
    const count = Object.keys(this.state.changes).length, out = this.state.refused.length;
    usable("undo", this.past.length > 0);
    usable("redo", this.future.length > 0);
    usable("save", count + this.queue.length > 0);
    document.body.classList.toggle("changed", this.dirty);
    const leaving = out ? `, leave out ${out} refused` : "";
    if (!this.before) keep(this.live.scene, { version: this.live.version, state: this.state, past: this.past, future: this.future });
    const as = this.queue.length ? "Save" : `As in the file${out ? `, ${out} refused` : ""}`;
    say("save", count ? `Save ${count} change${count === 1 ? "" : "s"}${leaving}` : as);
  }

  // Save what is changed, all that is still to be worked out with it.
  save() {
    this.release();
    this.wanted = this.working;
    if (!this.wanted && Object.keys(this.state.changes).length) this.alone(() => this.saveNow());
  }

  async saveNow() {
    const before = this.state.changes;
    const saved = await this.desk.ask("save", { changes: this.changes, edits: this.state.refused.map((one) => one.edit) });
    if (!saved) return;
    this.live.version = saved.version;
    this.desk.rebased(Object.fromEntries(Object.entries(before).map(([path, pair]) => [path, pair[0]])));
    this.past = this.past.map((state) => rebased(state, before));
    this.future = this.future.map((state) => rebased(state, before));
    this.state = saved.state;
    this.put(saved.forms);
    this.tell();
    say("status", `Saved to ${this.live.file}; comments and order are as they were.`);
  }
}
