// The way from a page of a job to its steps at the saw, and back: the address tells which of them is shown.

import { AtSaw } from "./at_saw.js";
import { on } from "./elements.js";

/** @import { Saw } from "./shown.d.ts" */

const THERE = "#at-the-saw";

/**
 * The phone's button for going back leaves the steps, and a bookmark of them opens them.
 * @param {Saw} saw
 */
export function openedAtSaw(saw) {
  const mode = new AtSaw(saw);
  const follow = () => {
    if (location.hash === THERE) mode.begin();
    else if (mode.open) mode.end();
  };
  let came = false; // from the page, so that the phone's own button for going back leads there too
  on("at-saw", "click", () => {
    came = true;
    location.hash = THERE;
  });
  on("saw-leave", "click", () => {
    if (came) history.back();
    else location.hash = "";
  });
  window.addEventListener("hashchange", follow);
  follow();
  return mode;
}
