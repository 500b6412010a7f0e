// The section in true proportion with its dimensions, and the deviation from the target below it, magnified.

/** @import { Model, Ring, Section } from "./shown.d.ts" */

const LETTER = 7; // pixels, about

/**
 * Pixels around the stock, for its dimensions.
 * @param {Section} section
 */
const roomOf = (section) => ({ left: 44, right: 28 + LETTER * Math.max(13, section.words.above.length, section.words.depth.length), top: 40, bottom: 44 });

/** @type {(name: string, attributes: Record<string, string | number>, ...inside: (Node | string)[]) => Element} */
const svgParts = (name, attributes, ...inside) => {
  const part = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) part.setAttribute(key, String(value));
  part.append(...inside);
  return part;
};

/**
 * @param {HTMLElement} place
 * @param {Model} model
 * @param {number} selected
 * @param {(number: number) => void} pick
 */
export function drawSection(place, model, selected, pick) {
  const { section } = model, across = place.clientWidth || 600, room = roomOf(section);
  const scale = (across - room.left - room.right) / section.width;
  const high = section.thickness * scale + room.top + room.bottom;
  /** @type {(across: number) => number} */
  const x = (y) => room.left + (y + section.width / 2) * scale;
  /** @type {(up: number) => number} */
  const y = (z) => room.top + (section.thickness - z) * scale;
  /** @type {(rings: Ring[]) => string} */
  const path = (rings) => rings.map((ring) => `M${ring.map((p) => `${x(p[0]).toFixed(2)} ${y(p[1]).toFixed(2)}`).join("L")}Z`).join("");
  const svg = svgParts("svg", { viewBox: `0 0 ${across} ${high.toFixed(1)}`, role: "img", "aria-label": "Section of the stock, what each pass takes of it, and the target" });
  svg.append(svgParts("path", { d: path(section.left), fill: "#e6c494", stroke: "#26282c", "stroke-width": 1.2, "fill-rule": "evenodd" }));
  if (section.finishing.length) {
    const later = svgParts("path", { d: path(section.finishing), fill: "#ecd2c9", stroke: "#26282c", "stroke-width": 1, "fill-rule": "evenodd" });
    later.append(svgParts("title", {}, "taken after the cove"));
    svg.append(later);
  }
  section.taken.forEach((rings, k) => {
    if (!rings.length) return;
    const one = model.passes[k], here = one.number === selected;
    const band = svgParts("path", {
      d: path(rings), fill: one.colour, "fill-opacity": here ? 0.95 : 0.42, stroke: one.colour, "stroke-width": here ? 2 : 0.8,
      "fill-rule": "evenodd", "data-pass": one.number,
    });
    band.append(svgParts("title", {}, [`pass ${one.number}`, ...one.flags.map((flag) => flag.message)].join(": ")));
    band.addEventListener("click", () => pick(one.number));
    svg.append(band);
  });
  if (section.target) {
    const d = `M${section.target.map((p) => `${x(p[0]).toFixed(2)} ${y(p[1]).toFixed(2)}`).join("L")}`;
    svg.append(svgParts("path", { d, fill: "none", stroke: "#000", "stroke-width": 1.6, "stroke-dasharray": "6 3.5", "pointer-events": "none" }));
    svg.append(svgParts("line", { x1: x(section.width / 2) + 14, x2: x(section.width / 2) + 44, y1: high - 15, y2: high - 15, stroke: "#000", "stroke-width": 1.6, "stroke-dasharray": "6 3.5" }));
    svg.append(svgParts("text", { x: x(section.width / 2) + 50, y: high - 11 }, "target"));
  }
  /** @type {(x1: number, y1: number, x2: number, y2: number, strong?: boolean) => void} */
  const rule = (x1, y1, x2, y2, strong) => svg.append(svgParts("line", { x1, y1, x2, y2, stroke: strong ? "#26282c" : "#8d9199", "stroke-width": strong ? 1 : 0.7 }));
  /** @type {(px: number, py: number) => void} */
  const tick = (px, py) => rule(px - 4, py + 4, px + 4, py - 4, true);
  /** @type {(from: number, to: number, start: number, level: number, words: string) => void} */
  const acrossLine = (from, to, start, level, words) => {
    for (const end of [from, to]) rule(x(end), start, x(end), level + Math.sign(level - start) * 5);
    rule(x(from), level, x(to), level, true);
    tick(x(from), level);
    tick(x(to), level);
    svg.append(svgParts("text", { x: (x(from) + x(to)) / 2, y: level < start ? level - 7 : level + 16, "text-anchor": "middle" }, words));
  };
  const half = section.width / 2;
  acrossLine(-half, half, y(section.thickness) - 3, 26, section.words.stock);
  if (section.edges) acrossLine(...section.edges, y(0) + 3, y(0) + 16, section.words.width);
  /** @type {(from: number, to: number, px: number) => void} */
  const upright = (from, to, px) => {
    rule(px, y(from), px, y(to), true);
    tick(px, y(from));
    tick(px, y(to));
  };
  upright(0, section.thickness, x(-half) - 14);
  const mid = y(section.thickness / 2), left = x(-half) - 22;
  svg.append(svgParts("text", { x: left, y: mid, "text-anchor": "middle", transform: `rotate(-90 ${left} ${mid})` }, section.words.thickness));
  if (section.top > 0) {
    const px = x(half) + 14;
    upright(0, section.top, px);
    upright(section.top, section.thickness, px);
    const low = y(section.top / 2), top = y((section.top + section.thickness) / 2), push = Math.max(0, 15 - (low - top)) / 2;
    svg.append(svgParts("text", { x: px + 8, y: low + push + 4 }, section.words.depth));
    svg.append(svgParts("text", { x: px + 8, y: top - push + 4 }, section.words.above));
  }
  place.replaceChildren(svg);
}

/**
 * @param {HTMLElement} place
 * @param {Model} model
 */
export function drawDeviation(place, model) {
  const { section } = model, { deviation } = section;
  if (!deviation) return place.replaceChildren();
  const across = place.clientWidth || 600;
  const room = roomOf(section), high = 150, middle = high / 2 + 6;
  const scale = (across - room.left - room.right) / section.width;
  const most = 1.25 * Math.max(deviation.tolerance, deviation.most), up = (middle - 22) / most;
  /** @type {(across: number) => number} */
  const x = (at) => room.left + (at + section.width / 2) * scale;
  /** @type {(off: number) => number} */
  const y = (off) => middle - off * up;
  const svg = svgParts("svg", { viewBox: `0 0 ${across} ${high}`, role: "img", "aria-label": "Deviation from the target across the section, magnified" });
  const x1 = room.left, x2 = across - room.right;
  svg.append(svgParts("rect", { x: x1, y: y(deviation.tolerance), width: x2 - x1, height: 2 * deviation.tolerance * up, fill: "#e3eee2" }));
  svg.append(svgParts("line", { x1, x2, y1: middle, y2: middle, stroke: "#8d9199" }));
  const d = `M${deviation.y.map((at, k) => `${x(at).toFixed(2)} ${y(deviation.by[k]).toFixed(2)}`).join("L")}`;
  svg.append(svgParts("path", { d, fill: "none", stroke: "#26282c", "stroke-width": 1.5 }));
  const apart = Math.max(10, 0.5 * deviation.tolerance * up);
  const fold = Number((up / scale).toPrecision(2));
  svg.append(svgParts("text", { x: x1, y: 12 }, `deviation, ${fold} times as large; ${deviation.within}`));
  svg.append(svgParts("text", { x: x2 + 8, y: middle - apart + 4, class: "faint" }, "wood left"));
  svg.append(svgParts("text", { x: x2 + 8, y: middle + apart + 4, class: "faint" }, "cut too deep"));
  place.replaceChildren(svg);
}
