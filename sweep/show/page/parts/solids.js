// Meshes as they come in the data: unpacked, coloured, with normals and ruled edges, ready for the painter.

import { add, cross, dot, minus, times, unit } from "./vectors.js";
import { CORNER } from "./painter.js";

/** @import { Kind, Legend, Model, Packed, Vector } from "./shown.d.ts" */

/**
 * A mesh unpacked: numbers of its places three by three, and of the corners of its faces; the pass that cut each face,
 * how far each place is from the target, and which places go with the blade; normals as long as twice a face's area.
 * @typedef {object} Mesh
 * @property {Float32Array} places
 * @property {Uint16Array | Uint32Array} corners
 * @property {Uint16Array} cutBy
 * @property {Float32Array | null} deviation
 * @property {Uint8Array} moves
 * @property {Vector[]} normals
 * @property {Vector[] | null} smooth
 *
 * Gives a corner's colour and how much grain shows through it.
 * @typedef {(face: number, vertex: number) => [Vector, number]} Colours
 */

const CREASE = Math.cos((25 * Math.PI) / 180);

/** @param {string} text */
function bytes(text) {
  const raw = atob(text), out = new Uint8Array(raw.length);
  for (let k = 0; k < raw.length; k++) out[k] = raw.charCodeAt(k);
  return out.buffer;
}

/**
 * Places as floats, or as whole steps from the low corner of the box that they lie in.
 * @param {Packed} packed
 */
function placesOf(packed) {
  const { v, low, step } = packed;
  return low && step ? Float32Array.from(new Uint16Array(bytes(v)), (count, k) => low[k % 3] + count * step[k % 3]) : new Float32Array(bytes(v));
}

/**
 * The pass that cut each face, a byte or two for each.
 * @param {ArrayBuffer} held
 * @param {number} faces
 */
const cutters = (held, faces) => (held.byteLength === faces ? Uint16Array.from(new Uint8Array(held)) : new Uint16Array(held));

/** @type {WeakMap<Packed, Mesh>} */
const UNPACKED = new WeakMap();

/**
 * Unpack a mesh, once.
 * @param {Packed} packed
 * @returns {Mesh}
 */
export function unpacked(packed) {
  const before = UNPACKED.get(packed);
  if (before) return before;
  const places = placesOf(packed), corners = packed.wide ? new Uint32Array(bytes(packed.t)) : new Uint16Array(bytes(packed.t));
  /** @type {Mesh} */
  const mesh = {
    places,
    corners,
    cutBy: packed.by ? cutters(bytes(packed.by), corners.length / 3) : new Uint16Array(corners.length / 3),
    deviation: packed.off ? new Float32Array(bytes(packed.off)) : null,
    moves: packed.moving ? new Uint8Array(bytes(packed.moving)) : new Uint8Array(places.length / 3),
    normals: [],
    smooth: null,
  };
  mesh.normals = faceNormals(mesh);
  UNPACKED.set(packed, mesh);
  return mesh;
}

/** @type {(mesh: Mesh, k: number) => Vector} */
const corner = (mesh, k) => [mesh.places[3 * mesh.corners[k]], mesh.places[3 * mesh.corners[k] + 1], mesh.places[3 * mesh.corners[k] + 2]];

/** @param {Mesh} mesh */
function faceNormals(mesh) {
  const normals = [];
  for (let k = 0; k < mesh.corners.length; k += 3) {
    const a = corner(mesh, k);
    normals.push(cross(minus(corner(mesh, k + 1), a), minus(corner(mesh, k + 2), a))); // as long as twice the area
  }
  return normals;
}

/**
 * A normal for each corner, averaged over the faces that curve on from its own.
 * @param {Mesh} mesh
 * @returns {Vector[]}
 */
function cornerNormals(mesh) {
  if (mesh.smooth) return mesh.smooth;
  /** @type {Map<number, number[]>} */
  const around = new Map();
  mesh.corners.forEach((vertex, k) => {
    const faces = around.get(vertex) ?? [];
    faces.push(Math.floor(k / 3));
    around.set(vertex, faces);
  });
  const directions = mesh.normals.map(unit);
  mesh.smooth = Array.from(mesh.corners, (vertex, k) => {
    const own = directions[Math.floor(k / 3)];
    let sum = [0, 0, 0];
    for (const face of around.get(vertex) ?? []) if (dot(own, directions[face]) > CREASE) sum = add(sum, mesh.normals[face]);
    return unit(sum);
  });
  return mesh.smooth;
}

/**
 * The corners of all faces, or of some.
 * @param {Mesh} mesh
 * @param {Colours} colourOf
 * @param {(face: number) => boolean} isOf
 */
export function faceCorners(mesh, colourOf, isOf = () => true) {
  const normals = cornerNormals(mesh), corners = [...mesh.corners.keys()].filter((k) => isOf(Math.floor(k / 3)));
  const out = new Float32Array(corners.length * CORNER);
  corners.forEach((k, place) => {
    const vertex = mesh.corners[k], [colour, grain] = colourOf(Math.floor(k / 3), vertex);
    out.set([...corner(mesh, k), ...normals[k], ...colour, grain, mesh.moves[vertex]], place * CORNER);
  });
  return out;
}

/**
 * Lines where faces meet at an edge, or where one pass's surface ends and another begins.
 * @param {Mesh} mesh
 */
export function edgeCorners(mesh) {
  const faces = new Map(), directions = mesh.normals.map(unit), out = [];
  for (let k = 0; k < mesh.corners.length; k++) {
    const a = mesh.corners[k], b = mesh.corners[k % 3 === 2 ? k - 2 : k + 1];
    const key = a < b ? a * 1e6 + b : b * 1e6 + a, face = Math.floor(k / 3), other = faces.get(key);
    if (other === undefined) {
      faces.set(key, face);
      continue;
    }
    const apart = dot(directions[face], directions[other]) < CREASE;
    if (apart || mesh.cutBy[face] !== mesh.cutBy[other]) {
      for (const v of [a, b]) {
        out.push(...mesh.places.subarray(3 * v, 3 * v + 3), 0, 0, 0, 0, 0, 0, 0, mesh.moves[v]);
      }
    }
  }
  return new Float32Array(out);
}

/**
 * Faces that a ray meets, nearest first: [distance, pass that cut it].
 * @param {Mesh} mesh
 * @param {Vector} from
 * @param {Vector} direction
 * @param {number} shift
 */
export function facesAlong(mesh, from, direction, shift) {
  /** @type {[number, number][]} */
  const met = [];
  /** @type {(k: number) => Vector} */
  const at = (k) => {
    const p = corner(mesh, k);
    p[0] += shift * mesh.moves[mesh.corners[k]];
    return p;
  };
  for (let k = 0; k < mesh.corners.length; k += 3) {
    const a = at(k), ab = minus(at(k + 1), a), ac = minus(at(k + 2), a);
    const p = cross(direction, ac), scale = dot(ab, p);
    if (Math.abs(scale) < 1e-12) continue;
    const s = minus(from, a), u = dot(s, p) / scale, q = cross(s, ab), v = dot(direction, q) / scale;
    const far = dot(ac, q) / scale;
    if (u >= 0 && v >= 0 && u + v <= 1 && far > 0) met.push([far, mesh.cutBy[k / 3]]);
  }
  return met.sort((x, y) => x[0] - y[0]);
}

/** @param {string} hex */
function shade(hex) {
  return [1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16) / 255);
}

/**
 * The colour of a value on a legend's bar.
 * @param {Legend} legend
 * @param {number} value
 */
function onBar(legend, value) {
  const place = ((value - legend.least) / (legend.most - legend.least)) * (legend.shades.length - 1);
  const low = Math.max(0, Math.min(legend.shades.length - 2, Math.floor(place))), share = Math.max(0, Math.min(1, place - low));
  const a = shade(legend.shades[low]), b = shade(legend.shades[low + 1]);
  return a.map((x, k) => x + share * (b[k] - x));
}

/**
 * Whether a pass cut a face; what is planed, or was done after the cove, counts on from the last pass or is 0.
 * @type {(model: Model, mesh: Mesh, face: number) => boolean}
 */
export const cutByPass = (model, mesh, face) => mesh.cutBy[face] > 0 && mesh.cutBy[face] <= model.passes.length;

/**
 * The rule that colours the stock.
 * @param {Model} model
 * @param {Mesh} mesh
 * @param {Kind} kind
 * @returns {Colours}
 */
export function stockColours(model, mesh, kind) {
  const { wood } = model, { deviation: legend } = model.legends;
  if (kind === "deviation" && mesh.deviation && legend) {
    const colours = Array.from(mesh.deviation, (off) => (Number.isNaN(off) ? wood : onBar(legend, off)));
    return (face, vertex) => (cutByPass(model, mesh, face) ? [colours[vertex], 0] : [wood, 1]);
  }
  /** @type {[Vector, number][]} */
  const byPass = [[wood, 1]];
  for (const one of model.passes) {
    if (kind === "chip") byPass.push([onBar(model.legends.chip, one.chip), 0]);
    else if (kind === "pass") byPass.push([shade(one.colour), 0]);
    else byPass.push([times(wood, 0.95), 1]);
  }
  return (face) => byPass[mesh.cutBy[face]] || [wood, 1];
}
