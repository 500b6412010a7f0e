// Vectors are arrays of 3; motions are 16 numbers, column by column, as WebGL holds them.

/** @import { Matrix, Vector } from "./shown.d.ts" */

/** @type {(a: Vector, b: Vector) => Vector} */
export const add = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
/** @type {(a: Vector, b: Vector) => Vector} */
export const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
/** @type {(a: Vector, k: number) => Vector} */
export const times = (a, k) => [a[0] * k, a[1] * k, a[2] * k];
/** @type {(a: Vector, b: Vector) => number} */
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** @type {(a: Vector, b: Vector) => Vector} */
export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
/** @type {(a: Vector) => Vector} */
export const unit = (a) => times(a, 1 / (Math.hypot(...a) || 1));

export const STILL = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

/**
 * The motion that does b first and then a.
 * @param {Matrix} a
 * @param {Matrix} b
 * @returns {Matrix}
 */
export const after = (a, b) => Array.from({ length: 16 }, (_, k) => [0, 1, 2, 3].reduce((sum, j) => sum + a[4 * j + (k % 4)] * b[k - (k % 4) + j], 0));

/**
 * @param {Matrix} motion
 * @param {Vector} by
 */
export function moved(motion, by) {
  const out = motion.slice();
  for (let row = 0; row < 3; row++) out[12 + row] += by[row];
  return out;
}

/** @param {number} angle */
export function turnedAboutX(angle) {
  const c = Math.cos(angle), s = Math.sin(angle);
  return [1, 0, 0, 0, 0, c, s, 0, 0, -s, c, 0, 0, 0, 0, 1];
}

/**
 * A point, or with w = 0 a direction, under the inverse of a rigid motion.
 * @param {Matrix} motion
 * @param {Vector} p
 */
export function undone(motion, p, w = 1) {
  const q = [p[0] - w * motion[12], p[1] - w * motion[13], p[2] - w * motion[14]];
  return [0, 1, 2].map((k) => motion[4 * k] * q[0] + motion[4 * k + 1] * q[1] + motion[4 * k + 2] * q[2]);
}

/**
 * @param {number} field
 * @param {number} aspect
 * @param {number} near
 * @param {number} far
 */
export function perspective(field, aspect, near, far) {
  const f = 1 / Math.tan(field / 2);
  return [f / aspect, 0, 0, 0, 0, f, 0, 0, 0, 0, (far + near) / (near - far), -1, 0, 0, (2 * far * near) / (near - far), 0];
}

/**
 * Along parallel lines: what is `half` above the middle lies at the picture's upper border, wherever it is.
 * @param {number} half
 * @param {number} aspect
 * @param {number} near
 * @param {number} far
 */
export function parallel(half, aspect, near, far) {
  return [1 / (half * aspect), 0, 0, 0, 0, 1 / half, 0, 0, 0, 0, 2 / (near - far), 0, 0, 0, (far + near) / (near - far), 1];
}

/**
 * @param {Vector} eye
 * @param {Vector} right
 * @param {Vector} up
 * @param {Vector} forward
 */
export function looking(eye, right, up, forward) {
  return [
    right[0], up[0], -forward[0], 0, right[1], up[1], -forward[1], 0, right[2], up[2], -forward[2], 0,
    -dot(right, eye), -dot(up, eye), dot(forward, eye), 1,
  ];
}
