// Meshes as they come in the data: unpacked, coloured, with normals and ruled edges, ready for the painter.

import { add, cross, dot, minus, times, unit } from "./vectors.js";
import { CORNER } from "./painter.js";

const CREASE = Math.cos((25 * Math.PI) / 180);

function bytes(text) {
  const raw = atob(text), out = new Uint8Array(raw.length);
  for (let k = 0; k < raw.length; k++) out[k] = raw.charCodeAt(k);
  return out.buffer;
}

// Unpack once; what is unpacked stays with the mesh.
export function unpacked(mesh) {
  if (!mesh.places) {
    mesh.places = new Float32Array(bytes(mesh.v));
    mesh.corners = new (mesh.wide ? Uint32Array : Uint16Array)(bytes(mesh.t));
    mesh.cutBy = mesh.by ? new Uint16Array(bytes(mesh.by)) : null;
    mesh.deviation = mesh.off ? new Float32Array(bytes(mesh.off)) : null;
    mesh.moves = mesh.moving ? new Uint8Array(bytes(mesh.moving)) : null;
    mesh.normals = faceNormals(mesh);
  }
  return mesh;
}

const corner = (mesh, k) => [mesh.places[3 * mesh.corners[k]], mesh.places[3 * mesh.corners[k] + 1], mesh.places[3 * mesh.corners[k] + 2]];

function faceNormals(mesh) {
  const normals = [];
  for (let k = 0; k < mesh.corners.length; k += 3) {
    const a = corner(mesh, k);
    normals.push(cross(minus(corner(mesh, k + 1), a), minus(corner(mesh, k + 2), a))); // as long as twice the area
  }
  return normals;
}

// A normal for each corner, averaged over the faces that curve on from its own.
function cornerNormals(mesh) {
  if (mesh.smooth) return mesh.smooth;
  const around = new Map();
  mesh.corners.forEach((vertex, k) => {
    if (!around.has(vertex)) around.set(vertex, []);
    around.get(vertex).push(Math.floor(k / 3));
  });
  const directions = mesh.normals.map(unit);
  mesh.smooth = Array.from(mesh.corners, (vertex, k) => {
    const own = directions[Math.floor(k / 3)];
    let sum = [0, 0, 0];
    for (const face of around.get(vertex)) if (dot(own, directions[face]) > CREASE) sum = add(sum, mesh.normals[face]);
    return unit(sum);
  });
  return mesh.smooth;
}

// `colourOf(face, vertex)` gives a colour and how much grain shows through it.
export function faceCorners(mesh, colourOf) {
  const normals = cornerNormals(mesh), out = new Float32Array(mesh.corners.length * CORNER);
  for (let k = 0; k < mesh.corners.length; k++) {
    const vertex = mesh.corners[k], [colour, grain] = colourOf(Math.floor(k / 3), vertex);
    out.set([...corner(mesh, k), ...normals[k], ...colour, grain, mesh.moves ? mesh.moves[vertex] : 0], k * CORNER);
  }
  return out;
}

// Lines where faces meet at an edge, or where one pass's surface ends and another begins.
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
    if (apart || (mesh.cutBy && mesh.cutBy[face] !== mesh.cutBy[other])) {
      for (const v of [a, b]) {
        out.push(mesh.places[3 * v], mesh.places[3 * v + 1], mesh.places[3 * v + 2], 0, 0, 0, 0, 0, 0, 0, mesh.moves ? mesh.moves[v] : 0);
      }
    }
  }
  return new Float32Array(out);
}

// Faces that a ray meets, nearest first: [distance, pass that cut it].
export function facesAlong(mesh, from, direction, shift) {
  const met = [];
  const at = (k) => {
    const p = corner(mesh, k);
    if (mesh.moves && mesh.moves[mesh.corners[k]]) p[0] += shift;
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

function shade(hex) {
  return [1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16) / 255);
}

// The colour of a value on a legend's bar.
function onBar(legend, value) {
  const place = ((value - legend.least) / (legend.most - legend.least)) * (legend.shades.length - 1);
  const low = Math.max(0, Math.min(legend.shades.length - 2, Math.floor(place))), share = Math.max(0, Math.min(1, place - low));
  const a = shade(legend.shades[low]), b = shade(legend.shades[low + 1]);
  return a.map((x, k) => x + share * (b[k] - x));
}

// Whether a pass cut a face; what is planed, or was done after the cove, counts on from the last pass or is 0.
export const cutByPass = (model, mesh, face) => mesh.cutBy[face] > 0 && mesh.cutBy[face] <= model.passes.length;

// The rule that colours the stock.
export function stockColours(model, mesh, kind) {
  const { wood } = model;
  if (kind === "deviation" && mesh.deviation) {
    const colours = Array.from(mesh.deviation, (off) => (Number.isNaN(off) ? wood : onBar(model.legends.deviation, off)));
    return (face, vertex) => (cutByPass(model, mesh, face) ? [colours[vertex], 0] : [wood, 1]);
  }
  const byPass = [[wood, 1]];
  for (const one of model.passes) {
    if (kind === "chip") byPass.push([onBar(model.legends.chip, one.chip), 0]);
    else if (kind === "pass") byPass.push([shade(one.colour), 0]);
    else byPass.push([times(wood, 0.95), 1]);
  }
  return (face) => byPass[mesh.cutBy[face]] || [wood, 1];
}
