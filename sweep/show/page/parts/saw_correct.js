// What measurements after a pass tell, read from the table of `plan/correct/table.py`: looked up, not worked out.
// Step by step as `plan/correct/from_table.py` reads it; thousandths of a mm, and degrees.

/** @import { SawTable, SawTold } from "./shown.d.ts" */

/** @typedef {[number, number]} Spot Which of rising numbers is next below, and how far on towards the one above. */

const IN_95 = 1.959963984540054;

/** @type {(rising: number[], value: number) => Spot | null} */
function spotOf(rising, value) {
  for (let k = 0; k < rising.length - 1; k++) {
    if (rising[k] > value || value > rising[k + 1]) continue;
    const apart = rising[k + 1] - rising[k];
    return [k, apart > 0 ? (value - rising[k]) / apart : 0];
  }
  return null;
}

/** @type {(values: number[], spot: Spot) => number} */
const along = (values, [k, on]) => (1 - on) * values[k] + on * values[k + 1];

/** @type {(grid: number[][], table: SawTable, height: number, angle: number) => number | null} */
function inGrid(grid, { depths, angles }, height, angle) {
  const down = spotOf(depths, height), across = spotOf(angles, angle);
  return down && across && along([along(grid[down[0]], across), along(grid[down[0] + 1], across)], [0, down[1]]);
}

/** @type {(table: SawTable, width: number, height: number) => number | null} */
function angleOf(table, width, height) {
  const spot = spotOf(table.depths, height);
  if (!spot) return null;
  const at = spotOf(table.angles.map((_, k) => along(table.widths.map((row) => row[k]), spot)), width);
  return at && along(table.angles, at);
}

/** @type {(of: (by: number) => number | null, error: number) => number} */
function slope(of, error) {
  const less = of(-error), here = of(0), more = of(error);
  if (less !== null && more !== null) return Math.abs(more - less) / 2;
  const other = less ?? more;
  return other === null || here === null ? 0 : Math.abs(other - here);
}

/** @type {(table: SawTable, angle: number, height: number, shift: number) => number[] | null} */
function offAt(table, angle, height, shift) {
  const one = spotOf(table.off_angles, angle), two = spotOf(table.off_heights, height), three = spotOf(table.off_offsets, shift);
  if (!one || !two || !three) return null;
  const [i, a] = one, [j, b] = two, [k, c] = three;
  return table.off[0][0][0].map((_, s) => {
    let sum = 0;
    for (const di of [0, 1]) for (const dj of [0, 1]) for (const dk of [0, 1]) {
      sum += (di ? a : 1 - a) * (dj ? b : 1 - b) * (dk ? c : 1 - c) * table.off[i + di][j + dj][k + dk][s];
    }
    return sum;
  });
}

/** @type {(value: number, rising: number[]) => number} */
const within = (value, rising) => Math.min(Math.max(value, rising[0]), rising[rising.length - 1]);

/** @type {(table: SawTable, angle: number, height: number, shift: number) => number} How far a cove goes beyond the target; below 0 it does not. */
function beyondOf(table, angle, height, shift) {
  const off = offAt(table, within(angle, table.off_angles), within(height, table.off_heights), within(shift, table.off_offsets));
  return -Math.min(...(off ?? [0]));
}

/** @type {(table: SawTable, angle: number, shift: number) => number} */
function outFrom(table, angle, shift) {
  const heights = table.off_heights;
  /** @type {[number, number] | null} */
  let before = null;
  for (const height of heights) {
    const beyond = beyondOf(table, angle, height, shift);
    if (beyond > table.tolerance) return before ? before[0] + ((height - before[0]) * (table.tolerance - before[1])) / (beyond - before[1]) : height;
    before = [height, beyond];
  }
  return heights[heights.length - 1];
}

/** @type {(table: SawTable, angle: number, height: number, shift: number) => number} */
function cutUpTo(table, angle, height, shift) {
  const flat = inGrid(table.flats, table, height, angle), width = inGrid(table.widths, table, height, angle);
  const meant = spotOf(table.angles, table.meant_angle);
  if (flat === null || width === null || !meant) return 0;
  const near = flat + table.flat_sign * shift, far = table.stock_width - width - near;
  const flats = table.flats.map((row) => along(row, meant));
  const fars = table.widths.map((row, k) => table.stock_width - along(row, meant) - flats[k]);
  const reached = [height];
  for (const [now, falling] of /** @type {[number, number[]][]} */ ([[near, flats], [far, fars]])) {
    const at = spotOf(falling.map((one) => -one), -now);
    if (at) reached.push(along(table.depths, at));
    else if (now > falling[0]) reached.push(0);
  }
  return Math.min(...reached);
}

/** @type {(table: SawTable, start: number) => number} How high one pass may reach from a height. */
function furthest(table, start) {
  const on = spotOf(table.left.map(([first]) => first), start), reached = table.left.map(([, , high]) => high);
  return on ? along(reached, on) : reached[reached.length - 1];
}

/** @type {(table: SawTable, start: number, height: number) => SawTold["passes"]} */
function passesFrom(table, start, height) {
  if (start > table.top - table.half_step) return [];
  const heights = table.left.filter(([first]) => first <= start + 1).pop()?.[1];
  if (!heights) return null;
  const above = heights.filter((one) => one > height + table.half_step || one === table.top);
  const again = start + 1 < height && height <= Math.min(furthest(table, start), table.top);
  const beside = again ? [height, ...above] : heights.filter((one) => one > start + 1);
  const left = height - start <= table.sliver && above[0] <= furthest(table, (start + height) / 2) + table.half_step ? above : beside;
  /** @type {{ height: number, rise: number, width: number }[]} */
  const passes = [];
  for (const one of left) {
    const before = passes.length ? passes[passes.length - 1].height : height;
    passes.push({ height: one, rise: one - before, width: inGrid(table.widths, table, one, table.meant_angle) ?? 0 });
  }
  return passes;
}

/** @type {(value: number, meant: number, error: number | null) => SawTold["angle"]} */
function told(value, meant, error) {
  const half = error === null ? null : IN_95 * error;
  return { value, meant, half, as_meant: half === null || Math.abs(value - meant) <= half };
}

/**
 * What measurements after one pass tell; null where they lie beyond the table.
 * @param {SawTable} table
 * @param {number} number The pass, from 1.
 * @param {{ width: number | null, depth: number | null, flat: number | null }} measured
 * @param {number} accuracy One standard deviation of each.
 * @returns {SawTold | null}
 */
export function answer(table, number, { width, depth, flat }, accuracy) {
  const setTo = table.heights[number - 1], height = depth ?? setTo;
  const heightError = depth === null ? table.set_height : accuracy;
  /** @type {(wide: number, high: number) => number | null} */
  const at = (wide, high) => angleOf(table, wide, high);
  const angle = width === null ? table.meant_angle : at(width, height);
  if (angle === null) return null;
  const byWidth = width === null ? 0 : slope((by) => at(width + by, height), Math.hypot(accuracy, table.kerf_width));
  const angleError = width === null ? table.set_angle : Math.hypot(byWidth, slope((by) => at(width, height + by), heightError));
  const own = inGrid(table.flats, table, height, angle);
  if (own === null) return null;
  const shift = flat === null ? 0 : table.flat_sign * (flat - own);
  /** @type {(wide: number, high: number, turn: number) => number | null} */
  const edge = (wide, high, turn) => {
    const turned = width === null ? angle + turn : at(width + wide, height + high);
    return turned === null ? null : inGrid(table.flats, table, height + high, turned);
  };
  const shiftError = flat === null ? null : Math.hypot(
    accuracy,
    width === null ? 0 : slope((by) => edge(by, 0, 0), accuracy),
    slope((by) => edge(0, by, 0), heightError),
    width === null ? slope((by) => edge(0, 0, by), table.set_angle) : 0,
  );
  const end = table.heights[table.heights.length - 1] + height - setTo;
  const endWidth = inGrid(table.widths, table, end, angle), endOff = offAt(table, angle, end, shift);
  if (endWidth === null || !endOff) return null;
  const top = Math.max(end, table.top), a = IN_95 * (width === null ? 0 : angleError), b = IN_95 * (shiftError ?? 0);
  const corners = [[-a, -b], [-a, b], [a, -b], [a, b]].map(([turn, aside]) => outFrom(table, angle + turn, shift + aside));
  const out = outFrom(table, angle, shift), perhaps = Math.min(out, ...corners), start = cutUpTo(table, angle, height, shift);
  const across = spotOf(table.angles, angle) ?? [0, 0], beyond = Math.max(0, beyondOf(table, angle, height, shift));
  return {
    angle: told(angle, table.meant_angle, width === null ? null : angleError),
    height: told(height, setTo, depth === null ? null : accuracy),
    offset: told(table.meant_offset + shift, table.meant_offset, shiftError),
    marks: table.marks.map((mark) => ({
      edge: mark.edge,
      by: mark.meant - along(mark.now, across) - shift * along(mark.by_offset, across),
      alone: along(mark.alone, across) + shift * along(mark.alone_by_offset, across),
    })),
    end: { width: endWidth, depth: end, deviation: Math.max(...endOff.map(Math.abs)) },
    beyond,
    closest: Math.max(beyond, table.closest),
    in_reach: height <= out,
    out_from: out < top ? out : null,
    perhaps_from: perhaps < top ? perhaps : null,
    start,
    passes: passesFrom(table, start, height),
  };
}
