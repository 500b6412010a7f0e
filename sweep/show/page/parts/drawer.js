// The page of a folder of profiles: some at a time, sorted and filtered; one opens as a card with every blade.

import { by, element, handOver, say, the } from "./elements.js";
import { drawn } from "./profile_drawing.js";

/** @import { BladeRow, Profile, Shop } from "./drawer.d.ts" */

const AT_A_TIME = 50; // rows on the page: thousands would take seconds to lay out

/** @type {Shop} */
const shop = JSON.parse(by("data").textContent ?? "");
const HEADS = ["profile", "section", "blade", ...shop.figures, "flagged"];
const LEFT = new Set(["profile", "section", "blade", "flagged"]);
const OFFSET = shop.figures.indexOf("offset");
const TILT = shop.figures.indexOf("tilt");
const TILTED = shop.profiles.some(({ rows: [best] }) => best.values[TILT]);
const columns = shop.figures.map((name, place) => ({ name, place })).filter(({ name, place }) => place !== OFFSET && (name !== "tilt" || TILTED));

/** @type {Record<string, (profile: Profile) => boolean>} */
const STATES = {
  all: () => true,
  within: ({ rows: [best] }) => best.within === true,
  beyond: ({ rows: [best] }) => best.within === false,
  flagged: ({ rows: [best] }) => Boolean(best.flags?.length),
  clear: ({ rows: [best] }) => best.within === true && best.flags?.length === 0,
  alike: ({ alike }) => alike.length > 0,
  without: ({ rows: [best] }) => best.within === null,
};

let sorted = { by: "profile", down: false };
let place = 0;
/** @type {Profile[]} */
let shown = shop.profiles;

/**
 * What a profile is sorted by; what has none comes last.
 * @param {Profile} profile
 * @returns {string | number | null}
 */
function keyOf({ name, rows: [best] }) {
  if (sorted.by === "profile") return name;
  if (sorted.by === "blade") return best.blade || null;
  if (sorted.by === "flagged") return best.flags ? best.flags.length : null;
  return best.values[shop.figures.indexOf(sorted.by)];
}

const inOrder = new Intl.Collator("en", { numeric: true });

/**
 * @param {string | number | null} one
 * @param {string | number | null} other
 */
function compared(one, other) {
  if (one === null || other === null) return Number(one === null) - Number(other === null);
  const way = typeof one === "string" ? inOrder.compare(one, String(other)) : one - Number(other);
  return sorted.down ? -way : way;
}

function choose() {
  const words = the("search", HTMLInputElement).value.trim().toLowerCase();
  const state = STATES[the("state", HTMLSelectElement).value];
  const blade = the("blade", HTMLSelectElement).value;
  const keys = new Map(shop.profiles.map((profile) => [profile, keyOf(profile)]));
  shown = shop.profiles
    .filter((profile) => state(profile) && profile.name.toLowerCase().includes(words) && (!blade || profile.rows[0].blade === blade))
    .sort((one, other) => compared(keys.get(one) ?? null, keys.get(other) ?? null) || inOrder.compare(one.name, other.name));
  place = 0;
  show();
}

function show() {
  const last = Math.min(place + AT_A_TIME, shown.length);
  by("rows").replaceChildren(...shown.slice(place, last).map(rowOf));
  say("count", `${shown.length.toLocaleString("en")} of ${shop.profiles.length.toLocaleString("en")} profiles`);
  say("place", shown.length ? `${(place + 1).toLocaleString("en")} to ${last.toLocaleString("en")}` : "none");
  the("before", HTMLButtonElement).disabled = place === 0;
  the("after", HTMLButtonElement).disabled = last >= shown.length;
  for (const head of by("heads").children) {
    const named = /** @type {HTMLElement} */ (head).dataset.head;
    if (named === sorted.by) head.setAttribute("aria-sort", sorted.down ? "descending" : "ascending");
    else head.removeAttribute("aria-sort");
  }
}

/** @param {Profile} profile */
function rowOf(profile) {
  const [best] = profile.rows;
  const opens = element("button", { type: "button", "aria-haspopup": "dialog" }, profile.name);
  const section = element("td", { class: "thumb" }, drawn(profile) ?? "");
  const row = element("tr", {}, element("th", { scope: "row", class: "left" }, opens), section);
  if (best.within === null) {
    row.append(element("td", { class: "said alarm", colspan: columns.length + 2 }, best.reason));
  } else {
    row.append(element("td", { class: "left" }, best.blade));
    for (const { name, place: at } of columns) {
      const off = name === "deviation" && !best.within;
      row.append(element("td", off ? { class: "alarm" } : {}, best.shown[at]));
    }
    row.append(element("td", { class: "said" }, ...saidOf(best)));
  }
  row.addEventListener("click", () => open(profile));
  return row;
}

/**
 * What is flagged, and what is said of the figures.
 * @param {BladeRow} row
 * @returns {(Node | string)[]}
 */
function saidOf({ flags, reason, within }) {
  const [flagged, said] = [(flags ?? []).join(", "), reason && flags?.length ? `; ${reason}` : reason];
  return [element("span", { class: "alarm" }, flagged), element("span", within ? {} : { class: "alarm" }, said)];
}

/** @param {Profile} profile */
function open(profile) {
  say("card-name", profile.name);
  const without = profile.rows[0].within === null;
  say("why", without ? profile.rows[0].reason : "");
  by("figures").hidden = without;
  by("drawing").replaceChildren(drawn(profile, `The section of ${profile.name}, wanted and cut`) ?? "");
  const known = shop.figures.map((_, at) => at).filter((at) => profile.rows.some((row) => (at === TILT ? row.values[at] : row.shown[at])));
  const heads = ["blade", ...known.map((at) => shop.figures[at]), "flagged"].map((name) => element("th", { scope: "col", ...(LEFT.has(name) ? { class: "left" } : {}) }, name));
  const rows = profile.rows.map((row) =>
    element(
      "tr",
      {},
      element("th", { scope: "row", class: "left" }, row.blade),
      ...known.map((at) => element("td", {}, row.shown[at])),
      element("td", { class: "said" }, ...saidOf(row)),
    ),
  );
  by("blades").replaceChildren(element("thead", {}, element("tr", {}, ...heads)), element("tbody", {}, ...rows));
  by("notes").replaceChildren(...profile.alike.map((words) => element("li", {}, words)));
  showScene(profile);
  the("card", HTMLDialogElement).showModal();
}

/** @param {Profile} profile */
function showScene({ scene, file }) {
  by("scene").hidden = !file;
  if (!file) return;
  const save = element("button", { type: "button" }, "Save it");
  save.addEventListener("click", () => handOver(new Blob([scene], { type: "application/toml" }), file));
  by("file").replaceChildren(shop.beside ? element("a", { href: file }, file) : save, ` Watch and change it with: sweep view ${file}`);
  say("text", scene);
}

/** @param {string} name */
function sortBy(name) {
  sorted = { by: name, down: sorted.by === name && !sorted.down };
  choose();
}

/** @param {number} way */
function turn(way) {
  place += way * AT_A_TIME;
  show();
  document.querySelector("main .scroll")?.scrollIntoView({ block: "nearest" });
}

for (const name of HEADS.filter((one) => !shop.figures.includes(one) || columns.some((column) => column.name === one))) {
  const words = name === "section" ? name : element("button", { type: "button" }, name);
  const head = element("th", { scope: "col", "data-head": name, ...(LEFT.has(name) ? { class: "left" } : {}) }, words);
  if (typeof words !== "string") words.addEventListener("click", () => sortBy(name));
  by("heads").append(head);
}
for (const name of [...new Set(shop.profiles.map(({ rows: [best] }) => best.blade))].filter(Boolean).sort(inOrder.compare)) {
  by("blade").append(element("option", { value: name }, name));
}
for (const name of ["search", "state", "blade"]) by(name).addEventListener("input", choose);
by("before").addEventListener("click", () => turn(-1));
by("after").addEventListener("click", () => turn(1));
by("close").addEventListener("click", () => the("card", HTMLDialogElement).close());
choose();
