// Figures of a slider as a maker would write them.

/**
 * A value with its unit: inches by 64ths, as a fraction, and those between them as decimals.
 * @param {string} unit
 * @param {number} value
 */
export function written(unit, value) {
  if (unit !== "in") return `${Number(value.toFixed(3))} ${unit}`;
  const all = Math.round(value * 64);
  return `${Math.abs(value * 64 - all) > 1e-4 ? Number(value.toFixed(5)) : fraction(all)} in`;
}

/**
 * 64ths as a whole number and a fraction: 93 of them are 1 29/64.
 * @param {number} all
 */
export function fraction(all) {
  const whole = Math.floor(Math.abs(all) / 64);
  let parts = Math.abs(all) - whole * 64, below = 64;
  while (parts && parts % 2 === 0) [parts, below] = [parts / 2, below / 2];
  const text = [whole || !parts ? whole : "", parts ? `${parts}/${below}` : ""].filter((piece) => piece !== "").join(" ");
  return `${all < 0 ? "-" : ""}${text}`;
}
