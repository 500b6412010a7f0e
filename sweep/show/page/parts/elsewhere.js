// What happens beside the page: the program stops and comes back, the file is saved by another hand.

import { asked } from "./asking.js";
import { button, by, element, say, write } from "./elements.js";

const EVERY = 1500; // milliseconds between two looks

/** @import { Editor } from "./edits.js" */

export class Watch {
  away = false;
  seen = "";
  room = element("div"); // for what is shown of both hands

  /**
   * Whether the program is there, and whether the file has another text than the editor's, is told.
   * @param {Editor} editor
   * @param {string} units
   * @param {(away: boolean) => void} gone
   */
  constructor(editor, units, gone) {
    this.editor = editor;
    this.beside = editor.live.beside;
    this.units = units;
    this.gone = gone;
    setTimeout(() => this.look(), EVERY);
  }

  async look() {
    const { changes, live } = this.editor, reply = await asked("now", { version: live.version, units: this.units, changes });
    this.there(!reply.stopped);
    if (reply.answer) await this.tell(reply.answer);
    setTimeout(() => this.look(), EVERY);
  }

  /** @param {boolean} there */
  there(there) {
    if (this.away === !there) return;
    this.away = !there;
    this.gone(this.away);
  }

  /** @param {{ version: string, at: string, words: string, beside: Record<string, string> }} now */
  async tell({ version, at, words, beside }) {
    const { editor } = this, place = by("elsewhere"), before = this.beside;
    const other = Object.keys(beside).filter((name) => name in before && before[name] !== beside[name]);
    if (other.length && !(await editor.take())) return; // it is asked again
    this.beside = beside;
    if (other.length) say("elsewhere-done", `${other.join(" and ")} changed: what this job takes from there is anew.`);
    if (words || version === editor.live.version) {
      this.seen = "";
      return say("elsewhere", words);
    }
    const { room } = this;
    if (room.dataset.mine !== JSON.stringify(editor.changes)) room.replaceChildren(); // more was changed since both were shown
    if (version === this.seen) return;
    if (!editor.dirty) {
      if (await editor.take()) say("elsewhere-done", `Taken in what was saved elsewhere at ${at}.`);
      return;
    }
    this.seen = version;
    const take = button(async () => (await editor.take()) && place.replaceChildren(), { id: "take-in" }, "Take it in");
    const show = button(async () => {
      const { changes, live } = editor, { answer } = await asked("both", { version: live.version, units: this.units, changes });
      room.dataset.mine = JSON.stringify(changes);
      write(room, answer?.shown ?? "");
    }, { id: "show-both" }, "Show both");
    place.replaceChildren(`The file was saved elsewhere at ${at}. `, take, " ", show, room);
  }
}
