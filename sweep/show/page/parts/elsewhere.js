// What happens beside the page: the program stops and comes back, the file is saved by another hand.

import { asked } from "./asking.js";
import { by, element, say } from "./elements.js";

const EVERY = 1500; // milliseconds between two looks

/** @import { Value } from "./shown.d.ts" */

/**
 * What the watch tells: whether the program is there, and that the file has another text than the page's.
 * @typedef {object} Told
 * @property {() => string} version Of the text that the page knows.
 * @property {(away: boolean) => void} away
 * @property {() => boolean} changed Whether the page has edits of its own.
 * @property {() => Record<string, Value>} changes What differs from the file.
 * @property {() => Promise<boolean>} take
 */

export class Watch {
  away = false;
  seen = "";
  /** @type {Record<string, string> | null} */
  beside = null; // digests of the files that the scene takes from

  /**
   * @param {Told} page
   * @param {string} units
   */
  constructor(page, units) {
    this.page = page;
    this.units = units;
    setInterval(() => this.look(), EVERY);
  }

  async look() {
    const reply = await asked("now", { version: this.page.version(), units: this.units, changes: this.page.changes() });
    this.there(!reply.stopped);
    if (reply.answer) this.tell(reply.answer);
  }

  /** @param {boolean} there */
  there(there) {
    if (this.away === !there) return;
    this.away = !there;
    this.page.away(this.away);
  }

  /** @param {{ version: string, at: string, words: string, beside: Record<string, string> }} now */
  async tell({ version, at, words, beside }) {
    const place = by("elsewhere"), before = this.beside ?? beside;
    const other = Object.keys(beside).filter((name) => name in before && before[name] !== beside[name]);
    this.beside = beside;
    if (other.length && (await this.page.take())) say("elsewhere-done", `${other.join(" and ")} changed: what this job takes from there is anew.`);
    if (words) {
      this.seen = "";
      return say("elsewhere", words);
    }
    if (version === this.page.version()) {
      this.seen = "";
      return place.replaceChildren();
    }
    if (version === this.seen) return;
    this.seen = version;
    if (!this.page.changed()) {
      if (await this.page.take()) say("elsewhere-done", `Taken in what was saved elsewhere at ${at}.`);
      return;
    }
    const take = element("button", { type: "button", id: "take-in" }, "Take it in");
    take.addEventListener("click", async () => {
      if (await this.page.take()) place.replaceChildren();
    });
    place.replaceChildren(`The file was saved elsewhere at ${at}. `, take);
  }
}
