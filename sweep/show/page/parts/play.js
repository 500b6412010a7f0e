// The feed going on by itself, pass after pass.

import { say } from "./elements.js";

const PASS_TIME = 4000; // milliseconds that a pass is played in

/** @import { Page } from "./page.js" */

export class Player {
  playing = false;

  /** @param {Page} page */
  constructor(page) {
    this.page = page;
  }

  turn() {
    if (this.playing) this.pause();
    else this.play();
  }

  play() {
    const { page } = this, { last, passes } = page.setups;
    if (page.share >= 1) page.go(page.at % last % passes + 1, 0);
    this.playing = true;
    say("play", "Pause");
    let before = performance.now();
    /** @param {number} now */
    const step = (now) => {
      if (!this.playing) return;
      const share = page.share + (now - before) / PASS_TIME;
      before = now;
      if (share < 1) {
        page.share = share;
        page.tellTravel();
        page.showSolid(false);
      } else if (page.at < passes) page.go(page.at + 1, 0);
      else {
        page.go(last, 1);
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
}
