// Lengths as the program shows them: how finely depends on whether they are set, found, read or measured with a tape.

import { fraction } from "./notation.js";

/** @typedef {(um: number) => string} Shown A length in thousandths of a mm, in words. */

const INCH = 25400; // thousandths of a mm

/** @type {(value: number, digits: number) => string} A number without the sign of one that is rounded to nothing. */
export const fixed = (value, digits) => value.toFixed(digits).replace(/^-(?=[0.]*$)/, "");

/** @type {(digits: number) => Shown} */
const metric = (digits) => (um) => `${fixed(um / 1000, digits)} mm`;

/** @type {(digits: number) => Shown} */
const decimal = (digits) => (um) => `${fixed(um / INCH, digits)} in`;

/** @type {Shown} */
const thou = (um) => `${(um / 25.4).toFixed(0)} thou`;

/** @type {(um: number) => number} */
const in64ths = (um) => Math.round((um / INCH) * 64);

/** @type {Shown} */
const nearest = (um) => `${fraction(in64ths(um))} in`;

/** @type {(um: number) => number} What is over the nearest 64th of an inch, in thousandths. */
const over = (um) => Math.round(1000 * (um / INCH - in64ths(um) / 64));

/** @type {Shown} */
const set = (um) => (over(um) ? `${fraction(in64ths(um))} ${over(um) > 0 ? "+" : ""}${(over(um) / 1000).toFixed(3)} in` : nearest(um));

/**
 * The ways in which lengths are shown in the units of a page, named as in `sweep/units.py`.
 * @param {string} units
 * @returns {Record<"length" | "nearest" | "read" | "tape" | "fine", Shown>}
 */
export function figuresIn(units) {
  if (units === "mm") return { length: metric(2), nearest: metric(2), read: metric(2), tape: metric(1), fine: metric(2) };
  if (units !== "in") return { length: decimal(3), nearest: decimal(3), read: decimal(3), tape: decimal(2), fine: thou };
  return { length: set, nearest, read: (um) => (over(um) ? decimal(3) : nearest)(um), tape: nearest, fine: thou };
}
