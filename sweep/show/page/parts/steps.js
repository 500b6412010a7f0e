// The order of work: a numbered list, each step with the cautions that it asks for.

import { by, element } from "./elements.js";

/** @import { Shown, Step } from "./shown.d.ts" */

/** @type {WeakMap<HTMLElement, Step[]>} What stands in a list. */
const STANDS = new WeakMap();

/**
 * While a slider is held the steps stay as they were, and say so.
 * @param {HTMLElement} list
 * @param {Shown} model
 */
export function drawSteps(list, { steps, held }) {
  by("steps-held").hidden = !held;
  by("work").classList.toggle("behind", Boolean(held));
  if (STANDS.get(list) === steps) return;
  STANDS.set(list, steps);
  /** @type {(step: Step) => HTMLElement[]} */
  const warned = ({ cautions }) => cautions.map(([name, words]) => element("p", {}, element("strong", {}, name), ` ${words}`));
  list.replaceChildren(...steps.map((step) => element("li", {}, element("strong", {}, `${step.name}.`), ` ${step.words}`, ...warned(step))));
}
