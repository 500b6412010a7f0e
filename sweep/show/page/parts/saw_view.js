// The saw and the stock in 3D: what stands where, the camera, and what is under the pointer.

import { eyeOf, holding, rayOf, under } from "./camera.js";
import { listenTo } from "./hand.js";
import { Painter } from "./painter.js";
import { cutByPass, edgeCorners, faceCorners, facesAlong, stockColours, unpacked } from "./solids.js";
import { suited } from "./section.js";
import { STILL, add, after, moved, times, turnedAboutX, undone } from "./vectors.js";

/** @import { Camera, Size } from "./camera.js" */
/** @import { Kind, Matrix, Model, Over, Packed, Part } from "./shown.d.ts" */
/** @import { Mesh } from "./solids.js" */
/** @import { How, Sent } from "./painter.js" */

const GHOST = [0.12, 0.34, 0.62]; // the ink of what lies beside
const SLAB = 12; // mm, least that is left of the stock where it is sawn through
const SPIN = 0.02; // radians that the blade is drawn to turn for each mm of feed: slow enough to be seen
const UNDER_TABLE = -6; // mm; what is lower is inside the table

export class SawView {
  /** @type {Mesh | null} The stock as it is shown. */
  mesh = null;
  moment = { number: 0, travel: 0, shift: 0 };
  /** @type {Camera} */
  camera = { at: [0, 0, 0], yaw: 0, pitch: 0, half: 1, field: 1, flat: false };
  view = "operator";
  made = false; // whether the finished moulding is shown
  placed = true; // whether the camera stands where the view puts it
  /** @type {Packed | null} What lies beside, seen over the stock. */
  beside = null;
  /** @type {Over | null} What may be written over the picture as it is seen. */
  over = null;
  through = true;
  drawn = 0;
  asked = false;
  even = 0;
  /** @type {Size} Its width and height: to ask the page would lay it out anew, with all that has changed. */
  size;
  /** @type {Sent[]} */
  machine = [];
  /** @type {Sent[]} */
  blade = [];
  /** @type {Partial<Record<"cut" | "planed" | "edges" | "cap" | "ghost" | "ghostEdges", Sent>>} */
  things = {};

  /**
   * @param {HTMLCanvasElement} canvas
   * @param {Model} model
   * @param {(number: number) => void} picked
   * @param {() => void} seen Told when the camera is put in its place, or taken from it.
   */
  constructor(canvas, model, picked, seen) {
    this.canvas = canvas;
    this.painter = new Painter(canvas);
    this.picked = picked;
    this.seen = seen;
    this.model = model;
    this.put(model);
    this.size = [canvas.clientWidth, canvas.clientHeight];
    new ResizeObserver(() => {
      this.size = [canvas.clientWidth, canvas.clientHeight];
      if (this.placed) this.go(this.view);
      else this.ask();
    }).observe(canvas);
    listenTo(this);
  }

  /**
   * The machine and the blade of a model; the camera stays where it is.
   * @param {Model} model
   */
  put(model) {
    this.model = model;
    this.machine = model.machine.map((part, k) => this.plain(part, this.machine[k]));
    if (model.blade) this.blade = model.blade.map((part, k) => this.plain(part, this.blade[k]));
  }

  /**
   * @param {Part} part
   * @param {Sent | undefined} old
   */
  plain(part, old) {
    const told = JSON.stringify(part); // few parts change with a setting
    return old?.told === told ? old : Object.assign(this.painter.sent(faceCorners(unpacked(part), () => [part.colour, 0]), old), { told });
  }

  /**
   * The stock at one moment. What is packed is exact at `at`; elsewhere its moving corners are shifted.
   * @param {Packed} packed
   * @param {number} number
   * @param {number} travel
   * @param {number | null} at
   * @param {Kind} kind
   */
  show(packed, number, travel, at, kind) {
    const mesh = unpacked(packed);
    this.mesh = mesh;
    this.moment = { number, travel, shift: at === null ? 0 : travel - at };
    const colours = stockColours(this.model, mesh, kind);
    for (const part of /** @type {const} */ (["cut", "planed"])) {
      /** @type {(face: number) => boolean} */
      const isOf = (face) => cutByPass(this.model, mesh, face) === (part === "cut");
      this.things[part] = this.painter.sent(faceCorners(mesh, colours, isOf), this.things[part]);
    }
    this.things.edges = this.painter.sent(edgeCorners(mesh), this.things.edges);
    this.even = kind === "wood" ? 0 : 1; // colours as in the legend
    this.ask();
  }

  /**
   * The same stock a little further on.
   * @param {number} travel
   * @param {number} at
   */
  shiftTo(travel, at) {
    this.moment.travel = travel;
    this.moment.shift = travel - at;
    this.ask();
  }

  /**
   * What lies beside, over the stock as it stands; nothing to take it away.
   * @param {Packed | null} packed
   */
  lay(packed) {
    if (packed === this.beside) return;
    this.beside = packed;
    const mesh = packed && unpacked(packed), { things, painter } = this;
    things.ghost = mesh ? painter.sent(faceCorners(mesh, () => [GHOST, 0]), things.ghost) : undefined;
    things.ghostEdges = mesh ? painter.sent(edgeCorners(mesh), things.ghostEdges) : undefined;
    this.ask();
  }

  /**
   * Put the camera in a place of the model's table, so that all that the place is for is seen; where drawings lie over
   * the picture, so that they fit it.
   * @param {string} view
   */
  go(view) {
    const place = (view === "bench" && this.made && this.model.made) || this.model.views.find((one) => one.name === view);
    if (!place) return;
    this.view = view;
    this.placed = true;
    const drawn = this.model.over[view] ?? [];
    this.over = drawn.length ? suited(this.canvas, drawn) : null;
    this.camera = this.over ? under(place, this.over, this.size) : holding(place, this.size);
    this.seen();
    this.ask();
  }

  // The camera is moved by hand: what was drawn for its place does not fit any more.
  astray() {
    this.placed = false;
    this.over = null;
    this.seen();
    this.ask();
  }

  get onTheBench() {
    return this.view === "bench";
  }

  /**
   * Where the stock stands: on the saw, or rolled over about its length with the cove up.
   * @returns {Matrix}
   */
  stockPose() {
    const { stock } = this.model;
    if (this.onTheBench) return [1, 0, 0, 0, 0, -1, 0, 0, 0, 0, -1, 0, 0, 0, stock.thickness, 1];
    return moved(stock.pose, times(stock.feed, this.moment.travel));
  }

  eye() {
    return eyeOf(this.camera, this.size, this.model.stock.length);
  }

  ask() {
    if (!this.asked) {
      this.asked = true;
      requestAnimationFrame(() => this.now());
    }
  }

  // What was asked for is drawn without waiting for the screen's next frame; that shows it all the same.
  now() {
    if (this.asked) this.draw();
  }

  draw() {
    this.asked = false;
    const { cut, planed, edges, ghost, ghostEdges } = this.things;
    if (!cut || !planed || !edges) return;
    const { painter, model, moment } = this, pose = this.stockPose(), sawn = this.view === "section";
    const one = model.passes[Math.max(0, Math.min(moment.number, model.passes.length) - 1)];
    const turned = after(one.pose, turnedAboutX(SPIN * moment.travel)), blade = moment.number > 0 && !this.onTheBench ? this.blade : [];
    painter.begin(this.eye(), this.size);
    if (!this.onTheBench && !sawn) for (const part of this.machine) painter.drawFaces(part, STILL, { under: true });
    for (const part of blade) painter.drawFaces(part, turned, { floor: sawn ? 0 : UNDER_TABLE });
    /** @type {How} */
    const how = { shift: moment.shift, even: this.even };
    const behind = Math.max(moment.travel + one.start, SLAB); // where the blade leaves the stock
    if (sawn && behind < model.stock.length - 1e-3) how.cut = behind;
    if (how.cut) painter.drawCap([cut, planed], this.cap(how.cut), pose, how);
    if (this.seenThrough) {
      // what is cut shows its own colours through the planed wood, and the blade through both
      painter.drawFaces(planed, pose, { ...how, opacity: 0.42 });
      painter.drawFaces(cut, pose, how);
      for (const part of blade) painter.drawFaces(part, turned, { floor: 0, opacity: 0.4, over: true });
    } else {
      painter.drawFaces(cut, pose, how);
      painter.drawFaces(planed, pose, how);
    }
    painter.drawLines(edges, pose, how);
    if (ghost && ghostEdges) {
      if (!this.seenThrough) painter.drawFaces(ghost, pose, { cut: how.cut, even: 1, opacity: 0.35, under: true });
      painter.drawLines(ghostEdges, pose, { cut: how.cut, ink: GHOST, opacity: 1 });
    }
    painter.gl.finish();
    this.drawn += 1;
    this.canvas.dataset.drawn = String(this.drawn);
  }

  // Whether one sees through the planed wood.
  get seenThrough() {
    return this.through && !this.onTheBench && this.view !== "section";
  }

  /**
   * The plane across the stock at a place along it, as end grain.
   * @param {number} x
   */
  cap(x) {
    const { width, thickness } = this.model.stock, y = width, z = 2 * thickness, out = [];
    for (const [a, b] of [[-y, -z], [y, -z], [y, z], [-y, -z], [y, z], [-y, z]]) out.push(x, a, b, 1, 0, 0, ...times(this.model.wood, 0.93), 1, 0);
    return (this.things.cap = this.painter.sent(new Float32Array(out), this.things.cap));
  }

  /**
   * The pass whose cut is under a place on the canvas, or null.
   * @param {number} x
   * @param {number} y
   */
  passAt(x, y) {
    if (!this.mesh) return null;
    const box = this.canvas.getBoundingClientRect(), pose = this.stockPose();
    const ray = rayOf(this.camera, this.eye(), ((x - box.left) / box.width) * 2 - 1, 1 - ((y - box.top) / box.height) * 2);
    const met = facesAlong(this.mesh, undone(pose, ray.from), undone(pose, ray.direction, 0), this.moment.shift);
    const seen = this.seenThrough ? met : met.slice(0, 1);
    const hit = seen.find(([, by]) => by > 0 && by <= this.model.passes.length);
    return hit ? hit[1] : null;
  }

  /**
   * @param {number} across
   * @param {number} upright
   */
  turn(across, upright) {
    this.camera.yaw += across;
    this.camera.pitch = Math.max(-1.55, Math.min(1.55, this.camera.pitch + upright));
    this.astray();
  }

  /**
   * @param {number} across
   * @param {number} upright
   */
  slide(across, upright) {
    const eye = this.eye(), scale = (2 * eye.half) / this.size[1];
    this.camera.at = add(this.camera.at, add(times(eye.right, -across * scale), times(eye.up, upright * scale)));
    this.astray();
  }

  /** @param {number} fold */
  nearer(fold) {
    this.camera.half = Math.max(3, Math.min(5000, this.camera.half / fold));
    this.astray();
  }
}
