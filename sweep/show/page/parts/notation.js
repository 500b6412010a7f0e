// Figures of a slider as a maker would write them.

/**
 * A value with its unit: inches by 64ths, as a fraction, and those between them as decimals.
 * @param {string} unit
 * @param {number} value
 */
export function written(unit, value) {
  const all = Math.round(Math.abs(value) * 64);
  if (unit !== "in") return `${Number(value.toFixed(3))} ${unit}`;
  if (Math.abs(Math.abs(value) * 64 - all) > 1e-4) return `${Number(value.toFixed(5))} in`;
  const whole = Math.floor(all / 64);
  let parts = all - whole * 64, below = 64;
  while (parts && parts % 2 === 0) [parts, below] = [parts / 2, below / 2];
  const text = [whole || !parts ? whole : "", parts ? `${parts}/${below}` : ""].filter((piece) => piece !== "").join(" ");
  return `${value < 0 && text !== "0" ? "-" : ""}${text} in`;
}
