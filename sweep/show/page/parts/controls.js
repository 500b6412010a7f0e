// The controls of the picture: its sliders, colours, views and keys.

import { by, element, the } from "./elements.js";

/** @import { Kind } from "./shown.d.ts" */
/** @import { Page } from "./page.js" */

/** @param {Page} page */
export function listen(page) {
  /** @type {[Kind, string][]} */
  const kinds = [["pass", "pass"], ["deviation", "deviation from the target"], ["chip", "chip load"], ["wood", "wood"]];
  const colour = the("colour", HTMLSelectElement), through = the("through", HTMLInputElement);
  const pass = the("pass", HTMLInputElement), travel = the("travel", HTMLInputElement);
  for (const [value, words] of kinds) {
    if (value !== "deviation" || page.model.legends.deviation) colour.append(element("option", { value }, words));
  }
  colour.addEventListener("change", () => {
    page.kind = /** @type {Kind} */ (colour.value);
    page.redraw();
  });
  through.addEventListener("change", () => {
    if (!page.solid) return;
    page.solid.through = through.checked;
    page.solid.ask();
  });
  by("magnify").addEventListener("change", () => page.drawSections());
  pass.addEventListener("input", () => {
    page.player.pause();
    page.go(Number(pass.value));
  });
  travel.addEventListener("input", () => {
    page.player.pause();
    page.share = Number(travel.value) / 1000;
    page.tellTravel();
    page.showSolid(false);
  });
  by("play").addEventListener("click", () => page.player.turn());
  page.model.views.forEach(({ name, words }, k) => {
    const button = element("button", { type: "button", "aria-pressed": String(!k), "data-view": name }, words);
    button.addEventListener("click", () => page.look(name));
    by("views").append(button);
    by("view").append(element("option", { value: name }, words));
  });
  by("view").addEventListener("change", () => page.look(the("view", HTMLSelectElement).value));
  by("solid").addEventListener("keydown", (event) => key(page, event));
}

/**
 * @param {Page} page
 * @param {KeyboardEvent} event
 */
function key(page, event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const view = page.model.views[Number(event.key) - 1];
  if (event.key === " ") page.player.turn();
  else if (event.key === "PageUp") page.pick(page.number + 1);
  else if (event.key === "PageDown") page.pick(page.number - 1);
  else if (view) page.look(view.name);
  else return;
  event.preventDefault();
}
