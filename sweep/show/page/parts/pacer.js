// The feed, practised: a bar that fills at the pace of a pass; and a tick to hear while nobody looks at a screen.

import { element } from "./elements.js";

/**
 * A bar for each pace, begun and ended by a button; leaving the screen ends it.
 * @param {[string, number][]} paces What each is, and how many seconds it takes.
 * @returns {HTMLElement[]}
 */
export function bars(paces) {
  return paces.map(([words, seconds]) => {
    const fill = element("i"), bar = element("div", { class: "saw-pace", "aria-hidden": "true" }, fill);
    const button = element("button", { type: "button", "aria-pressed": "false" }, "Run the bar");
    let began = 0;
    /** @param {number} now */
    const step = (now) => {
      if (!began || !bar.isConnected) return;
      const share = (now - began) / 1000 / seconds;
      fill.style.width = `${Math.min(100, 100 * share)}%`;
      if (share < 1) requestAnimationFrame(step);
      else still();
    };
    const still = () => {
      began = 0;
      button.textContent = "Run the bar";
      button.ariaPressed = "false";
    };
    button.addEventListener("click", () => {
      if (began) {
        still();
        fill.style.width = "0";
        return;
      }
      began = performance.now();
      button.textContent = "Stop the bar";
      button.ariaPressed = "true";
      requestAnimationFrame(step);
    });
    return element("div", {}, element("p", {}, words), bar, button);
  });
}

// A short tick every second, from when it is begun until it is ended.
export class Ticking {
  timer = 0;
  /** @type {AudioContext | null} */
  sound = null;

  // A browser lets a page sound only once somebody has touched it.
  ask() {
    try {
      this.sound ??= new AudioContext();
      this.sound.resume();
    } catch {
      this.sound = null; // this browser has no sound
    }
  }

  begin() {
    this.end();
    if (this.sound) this.timer = setInterval(() => this.tick(), 1000);
  }

  end() {
    clearInterval(this.timer);
  }

  tick() {
    if (!this.sound) return;
    const tone = this.sound.createOscillator(), gain = this.sound.createGain(), now = this.sound.currentTime;
    tone.frequency.value = 1000;
    gain.gain.setValueAtTime(0.4, now);
    gain.gain.exponentialRampToValueAtTime(0.001, now + 0.05);
    tone.connect(gain).connect(this.sound.destination);
    tone.start(now);
    tone.stop(now + 0.06);
  }
}
