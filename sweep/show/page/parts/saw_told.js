// What measurements tell, as the program words it: its sentences have places for figures, and these are filled here.

import { element } from "./elements.js";
import { figuresIn, fixed } from "./saw_figures.js";

/** @import { Saw, SawSet, SawTable, SawTold } from "./shown.d.ts" */

const STAYS = 50; // thousandths of a mm: smaller moves of the marks no tape shows
const ALIKE = 20; // heights nearer to each other are told once
const SAME = 1; // heights that differ by less are the same

/**
 * @param {Saw} saw
 * @param {SawTable} table
 * @param {SawTold | null} found
 * @param {number} number The pass after which it was measured, from 1.
 * @returns {HTMLElement[]}
 */
export function toldOf(saw, table, found, number) {
  const { says, units } = saw, { length, nearest, read: asRead, tape, fine } = figuresIn(units);
  if (!found) return [element("p", { class: "saw-barred" }, says.beyond_table)];
  /** @type {(name: string, places?: Record<string, string>) => string} */
  const say = (name, places = {}) => says[name].replace(/\{(\w+)\}/g, (_, place) => places[place] ?? "");
  /** @type {(by: number) => string} */
  const aside = (by) => say(by > 0 ? "right" : "left_hand", { by: tape(Math.abs(by)) });
  const degrees = (/** @type {number} */ value) => `${value.toFixed(2)} deg`;
  /** @type {HTMLElement[]} */
  const out = [];
  /** @type {(words: string, warns?: boolean) => unknown} */
  const tell = (words, warns = false) => out.push(element("p", warns ? { class: "saw-barred" } : {}, words));

  const { angle, height, offset, end } = found;
  /** @type {[string, SawSet, (value: number) => string, (value: number) => string][]} */
  const sets = [["fence", angle, degrees, degrees], ["height", height, length, fine], ["offset", offset, length, fine]];
  out.push(element("ul", { class: "saw-sets" }, ...sets.map(([name, one, shown, read]) => element("li", {}, element("strong", {}, `${says[`name_${name}`]}: `),
    one.half === null ? say("not_measured") : `${shown(one.value)} \u00b1 ${read(one.half)}`, `, ${say("set_to", { meant: shown(one.meant) })}`))));

  const asMeant = angle.as_meant && offset.as_meant;
  if (angle.half !== null || offset.half !== null) {
    if (asMeant) tell(say(offset.half === null ? "angle_as_meant" : "fence_as_meant", { meant: degrees(angle.meant) }));
    const [first, second] = found.marks;
    if (!first || !second) {
      if (!asMeant) tell(say("no_marks"), true);
    } else if (Math.max(Math.abs(first.by), Math.abs(second.by)) >= STAYS) {
      const moved = ({ edge = "", by = 0 }) => (edge === "front" || edge === "rear" ? aside(by) : say(by > 0 ? "away" : "towards", { by: tape(Math.abs(by)) }));
      tell(say("moves", {
        lead: say(asMeant ? "if_confirmed" : "move"),
        first_edge: first.edge,
        second_edge: second.edge,
        first: moved(first),
        second: moved(second),
        first_alone: aside(first.alone),
        second_alone: aside(second.alone),
      }), !asMeant);
    }
  }
  if (height.half !== null && height.as_meant) tell(say("height_as_meant", { meant: length(height.meant) }));
  else if (height.half !== null) tell(say(height.value > height.meant ? "higher" : "lower", { by: fine(Math.abs(height.value - height.meant)) }), true);
  const deviation = fine(end.deviation), tolerance = fine(table.tolerance);
  tell(say("left", { width: nearest(end.width), depth: nearest(end.depth), deviation, tolerance }), end.deviation > table.tolerance);
  if (!found.in_reach) {
    tell(say("out_of_reach", { beyond: fine(found.beyond), closest: fine(found.closest), tolerance }), true);
    return out;
  }
  tell(say("in_reach"));
  if (found.out_from !== null) tell(say("out_from", { out_from: length(found.out_from) }), true);
  if (found.perhaps_from !== null && (found.out_from === null || found.out_from - found.perhaps_from > ALIKE)) tell(say("perhaps_from", { perhaps_from: length(found.perhaps_from) }));
  if (!found.passes) tell(say("beyond_limits"), true);
  else if (!found.passes.length) tell(say("no_passes"));
  else {
    tell(say("passes"));
    out.push(element("ol", { class: "saw-left", start: number + 1 }, ...found.passes.map(({ height: to, rise, width }) => {
      const own = table.heights.findIndex((top) => top > to - SAME), goes = table.goes[own < 0 ? table.goes.length - 1 : own];
      const by = say(rise < 0 ? "down" : "up", { by: asRead(Math.abs(rise)) }), turns = table.lift ? say("turns", { turns: fixed(Math.abs(rise) / table.lift, 2) }) : "";
      return element("li", {}, say("pass_left", { height: length(to), by, turns, goes, width: nearest(width) }));
    })));
  }
  return out;
}

/**
 * A length as it is typed, thousandths of a mm; null for none.
 * @param {string} text
 * @param {string} unit
 */
export function typedLength(text, unit) {
  const found = /^(?:(\d+(?:[.,]\d+)?)|(?:(\d+)[ -])?(\d+)\/(\d+))$/.exec(text.trim());
  if (!found || Number(found[4]) === 0) return null;
  const [, plain, whole, over, under] = found;
  const value = plain ? Number(plain.replace(",", ".")) : Number(whole ?? 0) + Number(over) / Number(under);
  return value * (unit === "mm" ? 1000 : 25400);
}
