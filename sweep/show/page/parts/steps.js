// The order of work: a numbered list, each step with the cautions that it asks for.

import { element } from "./elements.js";

/** @import { Step } from "./shown.d.ts" */

/**
 * @param {HTMLElement} list
 * @param {Step[]} steps
 */
export function drawSteps(list, steps) {
  /** @type {(step: Step) => HTMLElement[]} */
  const warned = ({ cautions }) => cautions.map(([name, words]) => element("p", {}, element("strong", {}, name), ` ${words}`));
  list.replaceChildren(...steps.map((step) => element("li", {}, element("strong", {}, `${step.name}.`), ` ${step.words}`, ...warned(step))));
}
