// The pass table, what is flagged, and the words beside them.

import { element } from "./elements.js";

/** @import { Kind, Model } from "./shown.d.ts" */

/**
 * The page's policy lets no style stand in an attribute; one that is set like this is the script's own.
 * @template {HTMLElement} T
 * @param {T} thing
 * @param {string} background
 */
function painted(thing, background) {
  thing.style.background = background;
  return thing;
}

/** @param {string} colour */
const swatch = (colour) => painted(element("i"), colour);

/**
 * @param {HTMLElement} table
 * @param {Model} model
 * @param {(number: number) => void} pick
 */
export function drawTable(table, model, pick) {
  const heads = model.columns.map(([name, unit]) => element("th", { scope: "col" }, name, element("small", {}, unit || "\u00a0")));
  const rows = model.passes.map((one) => {
    const reason = one.flags.map((flag) => flag.message).join("; ");
    const mark = swatch(one.colour);
    const cells = one.cells.map((text) => element("td", {}, text));
    const percent = Number(one.cells.at(-1));
    // only what is more than `high`, beyond the limit, is drawn as bad
    const bar = { min: 0, max: 100.5, low: 100, high: 100, optimum: 0, value: Math.min(100.5, percent), "aria-hidden": "true" };
    cells[cells.length - 1].prepend(element("meter", bar));
    const row = element("tr", { tabindex: 0, "data-pass": one.number, "aria-selected": "false" }, element("td", {}, mark, (one.flags.length ? "! " : "") + one.number), ...cells);
    if (one.flags.length) {
      row.className = "flagged";
      row.title = reason;
    }
    row.addEventListener("click", () => pick(one.number));
    row.addEventListener("keydown", (event) => {
      if (event.key === "Enter") pick(one.number);
      const other = event.key === "ArrowDown" ? row.nextElementSibling : event.key === "ArrowUp" ? row.previousElementSibling : null;
      if (other instanceof HTMLElement) {
        event.preventDefault();
        other.focus();
      }
    });
    return row;
  });
  const head = element("thead", {}, element("tr", {}, element("th", { scope: "col" }, "pass", element("small", {}, "\u00a0")), ...heads));
  table.replaceChildren(head, element("tbody", {}, ...rows));
}

/**
 * @param {HTMLElement} table
 * @param {number} number
 */
export function markRow(table, number) {
  for (const row of /** @type {NodeListOf<HTMLElement>} */ (table.querySelectorAll("tbody tr"))) row.setAttribute("aria-selected", String(Number(row.dataset.pass) === number));
}

/**
 * How much is flagged and the worst of it; it leads to its pass, and to all of them.
 * @param {HTMLElement} place
 * @param {Model["alert"]} alert Its pass is counted on through all set-ups.
 * @param {(number: number) => void} go
 */
export function tellWorst(place, { words, flagged, pass }, go) {
  place.classList.toggle("flagged", flagged);
  place.replaceChildren(element("span", {}, flagged ? `! ${words}` : words));
  if (flagged) place.append(" ", element("a", { href: "#flags" }, "All"));
  if (!pass) return;
  const show = element("button", { type: "button", class: "plain" }, `Show pass ${pass}`);
  show.addEventListener("click", () => go(pass));
  place.append(" ", show);
}

/**
 * @param {HTMLElement} list
 * @param {Model} model
 */
export function drawFlags(list, model) {
  const ofJob = model.flags.map(({ of, message }) => `${of[0].toUpperCase()}${of.slice(1)}: ${message}.`);
  const ofPasses = model.passes.flatMap((one) => one.flags.map((flag) => `Pass ${one.number}: ${flag.message}.`));
  const mild = model.mild.map((flag) => element("li", { class: "faint" }, `? ${flag.of}: ${flag.message}.`));
  list.replaceChildren(...[...ofJob, ...ofPasses].map((text) => element("li", {}, text)), ...mild);
}

/**
 * @param {HTMLElement} place
 * @param {Model} model
 * @param {Kind} kind
 */
export function drawLegend(place, model, kind) {
  /** @type {(colour: string, words: string) => HTMLElement} */
  const named = (colour, words) => element("span", {}, swatch(colour), words);
  const wood = `rgb(${model.wood.map((share) => Math.round(255 * share)).join(" ")})`;
  if (kind === "wood") return place.replaceChildren(named(wood, "wood as it is"));
  /** @type {(colours: string[]) => HTMLElement} */
  const bar = (colours) => painted(element("div", { class: "bar" }), `linear-gradient(90deg,${colours.join(",")})`);
  /** @type {(...words: string[]) => HTMLElement} */
  const ends = (...words) => element("div", { class: "ends" }, ...words.map((text) => element("span", {}, text)));
  if (kind === "pass" && model.passes.length > 14) {
    return place.replaceChildren(bar(model.passes.map((one) => one.colour)), ends("cut by pass 1", `pass ${model.passes.length}`));
  }
  if (kind === "pass") {
    return place.replaceChildren(named(wood, "planed"), ...model.passes.map((one) => named(one.colour, (one.number === 1 ? "cut by pass " : "") + one.number)));
  }
  const legend = model.legends[kind];
  if (legend) place.replaceChildren(bar(legend.shades), ends(...legend.words));
}
