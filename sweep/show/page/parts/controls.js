// The controls of the picture: its sliders, colours, views and keys.

import { by, input, on, select } from "./elements.js";

/** @import { Page } from "./page.js" */

/** @param {Page} page */
export function listen(page) {
  on("colour", "change", () => page.redraw());
  on("through", "change", () => {
    if (!page.solid) return;
    page.solid.through = input("through").checked;
    page.solid.ask();
  });
  on("magnify", "change", () => page.drawSections());
  on("pass", "input", () => {
    page.player.pause();
    page.go(Number(input("pass").value));
  });
  on("travel", "input", () => {
    page.player.pause();
    page.share = Number(input("travel").value) / 1000;
    page.tellTravel();
    page.showSolid(false);
  });
  on("play", "click", () => page.player.turn());
  on("views", "click", ({ target }) => target instanceof HTMLButtonElement && page.look(target.dataset.view ?? ""));
  on("view", "change", () => page.look(select("view").value));
  on("verdict-more", "click", () => {
    const more = by("verdict-more");
    more.ariaExpanded = String(more.ariaExpanded !== "true");
  });
  on("solid", "keydown", (event) => key(page, event));
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
