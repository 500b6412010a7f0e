// The pass table, what is flagged, and the words beside them.

import { button, element } from "./elements.js";

/** @import { Kind, Model, Pass } from "./shown.d.ts" */

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

// Only what is more than `high`, beyond the limit, is drawn as bad.
const SCALE = { min: 0, max: 100.5, low: 100, high: 100, optimum: 0 };

/** @param {string} colour */
const swatch = (colour) => painted(element("i"), colour);

/**
 * The table, made anew only where it has other rows or columns: while a slider is held its cells alone change.
 * @param {HTMLElement} table
 * @param {Model} model
 * @param {(number: number) => void} pick
 */
export function drawTable(table, model, pick) {
  const shape = JSON.stringify([model.columns, model.passes.map(({ number }) => number)]);
  if (table.dataset.shape !== shape) {
    const heads = model.columns.map(([name, unit]) => element("th", { scope: "col" }, name, element("small", {}, unit || "\u00a0")));
    const head = element("thead", {}, element("tr", {}, element("th", { scope: "col" }, "pass", element("small", {}, "\u00a0")), ...heads));
    table.replaceChildren(head, element("tbody", {}, ...model.passes.map((one) => rowOf(one, pick))));
    table.dataset.shape = shape;
  }
  for (const [k, row] of table.querySelectorAll("tbody tr").entries()) fillRow(/** @type {HTMLElement} */ (row), model.passes[k]);
}

/**
 * @param {Pass} one
 * @param {(number: number) => void} pick
 */
function rowOf({ number, cells }, pick) {
  const first = element("td", {}, element("i"), " "), bar = element("meter", { ...SCALE, "aria-hidden": "true" });
  const others = cells.map((_, k) => element("td", {}, ...(k === cells.length - 1 ? [bar] : []), " "));
  const row = element("tr", { tabindex: 0, "data-pass": number, "aria-selected": "false" }, first, ...others);
  row.addEventListener("click", () => pick(number));
  row.addEventListener("keydown", (event) => {
    if (event.key === "Enter") pick(number);
    const other = event.key === "ArrowDown" ? row.nextElementSibling : event.key === "ArrowUp" ? row.previousElementSibling : null;
    if (other instanceof HTMLElement) {
      event.preventDefault();
      other.focus();
    }
  });
  return row;
}

/**
 * @param {HTMLElement} row
 * @param {Pass} one
 */
function fillRow(row, { number, cells, colour, flags }) {
  const texts = [(flags.length ? "! " : "") + number, ...cells];
  for (const [k, cell] of [...row.children].entries()) {
    const words = /** @type {Text} */ (cell.lastChild);
    if (words.data !== texts[k]) words.data = texts[k];
  }
  const mark = row.querySelector("i"), bar = row.querySelector("meter");
  if (mark) painted(mark, colour);
  if (bar) bar.value = Math.min(SCALE.max, Number(cells.at(-1)));
  row.classList.toggle("flagged", flags.length > 0);
  row.title = flags.map((flag) => flag.message).join("; ");
}

/**
 * @param {HTMLElement} table
 * @param {number} number
 */
export function markRow(table, number) {
  for (const row of /** @type {NodeListOf<HTMLElement>} */ (table.querySelectorAll("tbody tr"))) row.ariaSelected = String(Number(row.dataset.pass) === number);
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
  if (pass) place.append(" ", button(() => go(pass), { class: "plain" }, `Show pass ${pass}`));
}

/**
 * @param {HTMLElement} list
 * @param {Model} model
 */
export function drawFlags(list, model) {
  list.replaceChildren(...model.flags.map(({ line, mild }) => element("li", mild ? { class: "faint" } : {}, line)));
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
