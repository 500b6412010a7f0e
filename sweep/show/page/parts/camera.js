// Where a camera stands, so that all that a place is for is seen, and what lies under a point of its picture.

import { add, cross, dot, looking, minus, parallel, perspective, times } from "./vectors.js";

/** @import { Over, Vector, View } from "./shown.d.ts" */

/**
 * What it turns about, which way it looks, mm from the middle to the upper border there, how wide it sees in radians,
 * and whether along parallel lines.
 * @typedef {{ at: Vector, yaw: number, pitch: number, half: number, field: number, flat: boolean }} Camera
 *
 * Width and height of a picture, in pixels of the page.
 * @typedef {[number, number]} Size
 */

const FREE = 0.04; // share of half the picture that is kept free at each border

/**
 * Which way a camera looks, and what is to its right and up.
 * @param {number} yaw
 * @param {number} pitch
 */
function axesOf(yaw, pitch) {
  const forward = [Math.sin(yaw) * Math.cos(pitch), Math.cos(yaw) * Math.cos(pitch), -Math.sin(pitch)];
  const right = [Math.cos(yaw), -Math.sin(yaw), 0];
  return { forward, right, up: cross(right, forward) };
}

/** @type {(size: Size) => number} */
const aspectOf = ([w, h]) => w / h || 1;

/**
 * The camera in a place, all points of which it sees.
 * @param {View} place
 * @param {Size} size
 * @returns {Camera}
 */
export function holding({ at, yaw, pitch, points, distance, flat }, size) {
  const { forward, right, up } = axesOf(yaw, pitch), from = minus(at, times(forward, distance));
  const wide = Math.max(1, aspectOf(size));
  const reach = Math.max(...points.map((point) => {
    const ray = minus(point, from), depth = flat ? distance : dot(ray, forward);
    return Math.max(Math.abs(dot(ray, up)), Math.abs(dot(ray, right)) / wide) / depth;
  })) / (1 - FREE);
  return { at, yaw, pitch, half: reach * distance, field: 2 * Math.atan(reach), flat };
}

/**
 * The camera under a drawing that is as large as it fits in the picture, in its middle.
 * @param {View} place
 * @param {Over} over
 * @param {Size} size
 * @returns {Camera}
 */
export function under({ yaw, pitch, flat }, { at, origin, scale, width, height }, size) {
  const { right, up } = axesOf(yaw, pitch), aspect = aspectOf(size);
  const middle = add(at, add(times(right, (width / 2 - origin[0]) / scale), times(up, (origin[1] - height / 2) / scale)));
  return { at: middle, yaw, pitch, half: Math.max(height * Math.min(1, aspect), width / Math.max(1, aspect)) / 2 / scale, field: 1, flat };
}

/**
 * What a camera sees, for the painter; far enough for stock of a length.
 * @param {Camera} camera
 * @param {Size} size
 * @param {number} length
 */
export function eyeOf({ at, yaw, pitch, half: own, field, flat }, size, length) {
  const aspect = aspectOf(size), half = own / Math.min(1, aspect);
  const distance = flat ? 4 * (length + half) : half / Math.tan(field / 2);
  const { forward, right, up } = axesOf(yaw, pitch);
  const from = minus(at, times(forward, distance)), far = distance + 4 * (length + half);
  return {
    from, forward, right, up, half, aspect,
    view: looking(from, right, up, forward),
    lens: flat ? parallel(half, aspect, 1, far) : perspective(field, aspect, Math.max(distance / 60, 1), far),
  };
}

/**
 * Where a ray through a point of the picture begins, and its direction; the point in shares of half the picture from
 * its middle.
 * @param {Camera} camera
 * @param {ReturnType<typeof eyeOf>} eye
 * @param {number} across
 * @param {number} upright
 */
export function rayOf({ flat, field }, eye, across, upright) {
  const aside = add(times(eye.right, across * eye.half * eye.aspect), times(eye.up, upright * eye.half));
  if (flat) return { from: add(eye.from, aside), direction: eye.forward };
  return { from: eye.from, direction: add(eye.forward, times(aside, Math.tan(field / 2) / eye.half)) };
}
