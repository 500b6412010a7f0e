// A profile drawn: what is wanted, and what the set-up cuts, over the face on the table.

import { shape } from "./elements.js";


/** @import { Profile } from "./drawer.d.ts" */

const ROOM = 0.06; // of the width, left about a drawing

/**
 * @param {string} packed
 * @returns {number[][]}
 */
function pointsOf(packed) {
  const bytes = Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
  const flat = new Int16Array(bytes.buffer);
  return Array.from({ length: flat.length / 2 }, (_, k) => [flat[2 * k], -flat[2 * k + 1]]); // down, as SVG has it
}

/**
 * The drawing of a profile, as large as its place; null where there is nothing to draw.
 * @param {Profile} profile
 * @param {string} [words] what it shows, for who hears the page; nothing where that is said beside it
 * @returns {SVGElement | null}
 */
export function drawn(profile, words) {
  const lines = { wanted: pointsOf(profile.wanted), cut: pointsOf(profile.cut) };
  const all = [...lines.wanted, ...lines.cut];
  if (!all.length) return null;
  const [left, right] = [Math.min(...all.map(([x]) => x)), Math.max(...all.map(([x]) => x))];
  const [top, bottom] = [Math.min(...all.map(([, y]) => y)), Math.max(0, ...all.map(([, y]) => y))];
  const room = ROOM * (right - left);
  const box = [left - room, top - room, right - left + 2 * room, bottom - top + 2 * room];
  const picture = shape("svg", { viewBox: box.join(" "), ...(words ? { role: "img", "aria-label": words } : { "aria-hidden": "true" }) });
  picture.append(shape("path", { class: "face", d: `M${box[0]} 0H${box[0] + box[2]}` }));
  for (const [name, points] of Object.entries(lines)) {
    if (points.length) picture.append(shape("path", { class: name, d: `M${points.map((point) => point.join(" ")).join("L")}` }));
  }
  return picture;
}
