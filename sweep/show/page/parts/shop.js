// The page of a folder's shop: its forms, changed, undone and saved as those of a job are.

import { asked } from "./asking.js";
import { Editor } from "./edits.js";
import { by, say } from "./elements.js";
import { Watch } from "./elsewhere.js";

/** @import { Live, State, Units } from "./shown.d.ts" */

class Shop {
  gone = false;

  /** @param {{ live: Live, units: Units }} data */
  constructor({ live, units }) {
    this.live = live;
    this.units = units;
    const editor = this.editor = new Editor(this, live);
    this.watch = new Watch(editor, units, (away) => this.away(away));
    setTimeout(() => editor.restore());
  }

  /**
   * @param {string} path
   * @param {object} more
   */
  async ask(path, more) {
    const reply = await asked(path, { version: this.live.version, units: this.units, ...more });
    this.watch.there(!reply.stopped);
    say("notices", reply.sentence);
    return reply.sentence ? null : reply.answer;
  }

  moment() {
    return { pass: 0, travel: null, width: 0 };
  }

  /** @param {{ state: State, forms: string }} reply */
  become(reply) {
    this.editor.put(reply.forms);
  }

  lag() {}

  rebased() {}

  /** @param {boolean} away */
  away(away) {
    this.gone = away;
    by("gone").hidden = !away;
    say("gone", away ? "sweep has stopped. What is changed is kept here." : "");
    if (!away) this.editor.resume();
  }
}

Object.assign(window, { sweepPage: new Shop(JSON.parse(by("data").textContent ?? "")) });
