// The outline of the wood over its picture: points are dragged, taken away and saved.

import { asked } from "./asking.js";
import { by, input, on, say, shape, the, under, usable } from "./elements.js";

/** @import { Vector } from "./shown.d.ts" */

/**
 * Points in pixels of the picture, whether the last is joined to the first, its size and the picture in base64.
 * @typedef {{ points: Vector[], closed: boolean, size: Vector, picture: string }} Told
 */

const MOST = 200; // steps that can be undone
/** @type {Map<string, Vector>} */
const MOVES = new Map([["ArrowLeft", [-1, 0]], ["ArrowRight", [1, 0]], ["ArrowUp", [0, -1]], ["ArrowDown", [0, 1]]]);

/** @type {Told} */
const told = JSON.parse(by("data").textContent ?? "");
const drawing = the("drawing", SVGSVGElement), frame = by("frame"), zoom = input("zoom");
/** @type {Vector[]} */
let points = told.points;
/** @type {Vector[][]} */
const before = [];
let chosen = 0, held = false, saved = true;

/** @type {(name: string, attributes: Record<string, string | number>) => SVGElement} */
const drawn = (name, attributes) => drawing.appendChild(shape(name, attributes));

const [wide, high] = told.size;
drawing.setAttribute("viewBox", `-0.5 -0.5 ${wide} ${high}`);
drawn("image", { href: `data:image/jpeg;base64,${told.picture}`, x: -0.5, y: -0.5, width: wide, height: high, preserveAspectRatio: "none" });
const casing = drawn(told.closed ? "polygon" : "polyline", { class: "casing" });
const line = drawn(told.closed ? "polygon" : "polyline", { class: "line" });
const dots = drawn("g", {});

// A point's size does not grow with the picture.
const size = () => wide / Math.max(drawing.clientWidth, 1);

function show() {
  const path = points.map((point) => point.join(",")).join(" ");
  casing.setAttribute("points", path);
  line.setAttribute("points", path);
  dots.replaceChildren(...points.map(([cx, cy], k) => shape("circle", { cx, cy, r: (k === chosen ? 6 : 3) * size(), class: k === chosen ? "chosen" : "" })));
  usable("undo", before.length > 0);
  say("chosen", `Point ${chosen + 1} of ${points.length}, ${points[chosen].map((at) => at.toFixed(1)).join(" across, ")} down`);
}

/** @param {number} number */
function choose(number) {
  chosen = (number + points.length) % points.length;
  show();
  dots.children[chosen].scrollIntoView({ block: "nearest", inline: "nearest" });
}

// What follows can be undone.
function keep() {
  before.push(points);
  if (before.length > MOST) before.shift();
  points = [...points];
  saved = false;
}

/** @param {Vector} to */
function move(to) {
  points[chosen] = [Math.min(Math.max(to[0], 0), wide - 1), Math.min(Math.max(to[1], 0), high - 1)];
  show();
}

function remove() {
  if (points.length <= 12) return;
  keep();
  points.splice(chosen, 1);
  choose(Math.min(chosen, points.length - 1));
}

function undo() {
  points = before.pop() ?? points;
  saved = false;
  choose(Math.min(chosen, points.length - 1));
}

async function save() {
  const { answer, sentence } = await asked("save", { points });
  saved = Boolean(answer) || saved;
  by("notices").className = `notice${answer ? "" : " alarm"}`;
  say("notices", answer ? answer.sentence : sentence);
}

/** @type {(event: MouseEvent) => Vector} */
const pointed = (event) => {
  const { x, y } = under(drawing, event);
  return [x, y];
};

drawing.addEventListener("pointerdown", (event) => {
  const [x, y] = pointed(event);
  const away = points.map((point) => Math.hypot(point[0] - x, point[1] - y));
  const nearest = away.indexOf(Math.min(...away));
  if (away[nearest] > 14 * size()) return;
  held = true;
  drawing.setPointerCapture(event.pointerId);
  keep();
  choose(nearest);
});
drawing.addEventListener("pointermove", (event) => held && move(pointed(event)));
for (const end of ["pointerup", "pointercancel"]) drawing.addEventListener(end, () => (held = false));
frame.addEventListener("keydown", (event) => {
  const way = MOVES.get(event.key), step = event.shiftKey ? 0.1 : 1;
  if (way) {
    keep();
    move(points[chosen].map((at, k) => at + way[k] * step));
  } else if (event.key === "PageDown") choose(chosen + 1);
  else if (event.key === "PageUp") choose(chosen - 1);
  else if (event.key === "Delete") remove();
  else return;
  event.preventDefault();
});
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey && event.key === "z") undo();
  else if (event.ctrlKey && event.key === "s") save();
  else return;
  event.preventDefault();
});
zoom.addEventListener("input", () => {
  drawing.style.width = `${100 * Number(zoom.value)}%`;
  choose(chosen);
});
on("before", "click", () => choose(chosen - 1));
on("after", "click", () => choose(chosen + 1));
on("remove", "click", remove);
on("undo", "click", undo);
on("save", "click", save);
addEventListener("resize", show);
addEventListener("beforeunload", (event) => saved || event.preventDefault());
show();
