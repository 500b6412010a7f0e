// The page of a folder of profiles: some at a time, sorted and filtered; one opens as a card with every blade.

import { by, element, handOver, input, on, say, select, shape, the, usable } from "./elements.js";

/** @import { BladeRow, Profile, Shop } from "./drawer.d.ts" */

const AT_A_TIME = 50; // rows on the page: thousands would take seconds to lay out

/** @type {Shop} */
const shop = JSON.parse(by("data").textContent ?? "");
const OFFSET = shop.figures.indexOf("offset");
const TILT = shop.figures.indexOf("tilt");
const TILTED = shop.profiles.some(({ rows: [best] }) => best.values[TILT]);
const columns = shop.figures.map((name, place) => ({ name, place })).filter(({ name, place }) => place !== OFFSET && (name !== "tilt" || TILTED));

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
  const words = input("search").value.trim().toLowerCase();
  const state = select("state").value;
  const blade = select("blade").value;
  const keys = new Map(shop.profiles.map((profile) => [profile, keyOf(profile)]));
  shown = shop.profiles
    .filter((profile) => profile.is.includes(state) && profile.name.toLowerCase().includes(words) && (!blade || profile.rows[0].blade === blade))
    .sort((one, other) => compared(keys.get(one) ?? null, keys.get(other) ?? null) || inOrder.compare(one.name, other.name));
  place = 0;
  show();
}

function show() {
  const last = Math.min(place + AT_A_TIME, shown.length);
  by("rows").replaceChildren(...shown.slice(place, last).map(rowOf));
  const [from, to, some, all] = [place + 1, last, shown.length, shop.profiles.length].map((count) => count.toLocaleString("en"));
  say("count", `${some} of ${all} profiles`);
  say("place", shown.length ? `${from} to ${to}` : "none");
  usable("before", place > 0);
  usable("after", last < shown.length);
  for (const head of by("heads").children) {
    const named = /** @type {HTMLElement} */ (head).dataset.head;
    if (named === sorted.by) head.ariaSort = sorted.down ? "descending" : "ascending";
    else head.removeAttribute("aria-sort");
  }
}

/** @param {Profile} profile */
function rowOf(profile) {
  const [best] = profile.rows;
  const opens = element("button", { type: "button", "aria-haspopup": "dialog" }, profile.name);
  const section = element("td", { class: "thumb" }, drawn(profile, { "aria-hidden": "true" }) ?? "");
  const row = element("tr", {}, element("th", { scope: "row" }, opens), section);
  if (best.within === null) {
    row.append(element("td", { class: "said alarm", colspan: columns.length + 2 }, best.reason));
  } else {
    row.append(element("td", {}, best.blade));
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
 * What is wanted and what the set-up cuts, over the face on the table; null where there is nothing to draw.
 * @param {Profile} profile
 * @param {Record<string, string>} how What it shows, for who hears the page.
 */
function drawn({ box, lines }, how) {
  if (!box) return null;
  const [left, , width] = box.split(" "), face = shape("path", { class: "face", d: `M${left} 0h${width}` });
  return shape("svg", { viewBox: box, ...how }, face, ...Object.entries(lines).map(([name, d]) => shape("path", { class: name, d })));
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
  by("drawing").replaceChildren(drawn(profile, { role: "img", "aria-label": `The section of ${profile.name}, wanted and cut` }) ?? "");
  const known = shop.figures.map((_, at) => at).filter((at) => profile.rows.some((row) => (at === TILT ? row.values[at] : row.shown[at])));
  const heads = ["blade", ...known.map((at) => shop.figures[at]), "flagged"].map((name) => element("th", { scope: "col" }, name));
  const rows = profile.rows.map((row) =>
    element(
      "tr",
      {},
      element("th", { scope: "row" }, row.blade),
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

if (!TILTED) document.querySelector("[data-head=tilt]")?.remove();
on("heads", "click", ({ target }) => target instanceof HTMLButtonElement && sortBy(target.textContent ?? ""));
for (const name of [...new Set(shop.profiles.map(({ rows: [best] }) => best.blade))].filter(Boolean).sort(inOrder.compare)) {
  by("blade").append(element("option", { value: name }, name));
}
for (const name of ["search", "state", "blade"]) by(name).addEventListener("input", choose);
on("before", "click", () => turn(-1));
on("after", "click", () => turn(1));
on("close", "click", () => the("card", HTMLDialogElement).close());
choose();
