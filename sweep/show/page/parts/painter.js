// Draws triangles and lines with WebGL2: a few hundred of them, so everything is sent anew when it changes.

import { FACE_FRAGMENT, FACE_VERTEX, LINE_FRAGMENT, LINE_VERTEX } from "./shaders.js";

/** @import { Matrix, Vector } from "./shown.d.ts" */

export const CORNER = 11; // numbers a corner: place 3, normal 3, colour 3, how much grain, whether it goes with the blade

const VALUES = ["pose", "view", "lens", "shift", "opacity", "cut", "even", "ink", "floorz"]; // where a program has none, none is set
const INK = [0.17, 0.13, 0.1];

/**
 * Corners that lie on the card; of which part of the saw, as it is told.
 * @typedef {{ array: WebGLVertexArrayObject | null, buffer: WebGLBuffer | null, count: number, told?: string }} Sent
 *
 * A program and the places of its values.
 * @typedef {{ program: WebGLProgram, places: Record<string, WebGLUniformLocation | null> }} Program
 *
 * How a thing is drawn: how opaque, cut off where along it, how far its moving corners are shifted, whether flat in its
 * own colour, cut off below what height, whether over all that stands before it, or under faces in the same place; lines
 * in what ink.
 * @typedef {{ opacity?: number, cut?: number, shift?: number, even?: number, floor?: number, over?: boolean, under?: boolean, ink?: Vector }} How
 */

export class Painter {
  /** @type {{ view: Matrix, lens: Matrix }} */
  camera = { view: [], lens: [] };

  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    const gl = canvas.getContext("webgl2", { antialias: true, alpha: false, stencil: true });
    if (!gl) throw new Error("this browser gives the page no WebGL2");
    this.gl = gl;
    this.canvas = canvas;
    this.faces = this.program(FACE_VERTEX, FACE_FRAGMENT);
    this.lines = this.program(LINE_VERTEX, LINE_FRAGMENT);
    gl.enable(gl.DEPTH_TEST);
    gl.polygonOffset(2, 300);
    gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
  }

  /**
   * @param {string} vertex
   * @param {string} fragment
   * @returns {Program}
   */
  program(vertex, fragment) {
    const gl = this.gl, program = gl.createProgram();
    /** @type {[number, string][]} */
    const halves = [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]];
    for (const [kind, text] of halves) {
      const shader = gl.createShader(kind);
      if (!shader) throw new Error("this browser's WebGL2 was lost");
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(program) ?? "");
    return { program, places: Object.fromEntries(VALUES.map((name) => [name, gl.getUniformLocation(program, name)])) };
  }

  /**
   * Send corners to the card, in the place of old ones.
   * @param {Float32Array} numbers
   * @param {Sent} [old]
   * @returns {Sent}
   */
  sent(numbers, old) {
    const gl = this.gl;
    const thing = old || { array: gl.createVertexArray(), buffer: gl.createBuffer(), count: 0 };
    thing.count = numbers.length / CORNER;
    gl.bindVertexArray(thing.array);
    gl.bindBuffer(gl.ARRAY_BUFFER, thing.buffer);
    gl.bufferData(gl.ARRAY_BUFFER, numbers, gl.DYNAMIC_DRAW);
    [[0, 3, 0], [1, 3, 3], [2, 3, 6], [3, 1, 9], [4, 1, 10]].forEach(([place, size, from]) => {
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, size, gl.FLOAT, false, 4 * CORNER, 4 * from);
    });
    return thing;
  }

  /**
   * @param {{ view: Matrix, lens: Matrix }} camera
   * @param {[number, number]} size Of the picture in the page's pixels.
   */
  begin(camera, size) {
    const gl = this.gl, canvas = this.canvas;
    const ratio = Math.min(window.devicePixelRatio || 1, 2), [width, height] = size.map((side) => Math.round(side * ratio));
    if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
    gl.viewport(0, 0, width, height);
    gl.clearColor(0.945, 0.937, 0.922, 1);
    gl.depthMask(true);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
    this.camera = camera;
  }

  /**
   * @param {Program} means
   * @param {Matrix} pose
   * @param {How} how
   */
  use({ program, places }, pose, { opacity = 1, cut = 1e9, shift = 0, even = 0, floor = -1e9, ink = INK }) {
    const gl = this.gl;
    gl.useProgram(program);
    gl.uniformMatrix4fv(places.pose, false, pose);
    gl.uniformMatrix4fv(places.view, false, this.camera.view);
    gl.uniformMatrix4fv(places.lens, false, this.camera.lens);
    gl.uniform1f(places.shift, shift);
    gl.uniform1f(places.opacity, opacity);
    gl.uniform1f(places.cut, cut);
    gl.uniform1f(places.even, even);
    gl.uniform3fv(places.ink, ink);
    gl.uniform1f(places.floorz, floor);
  }

  /**
   * @param {Sent} thing
   * @param {Matrix} pose
   * @param {How} how
   */
  drawFaces(thing, pose, how = {}) {
    const gl = this.gl;
    this.use(this.faces, pose, how);
    gl.bindVertexArray(thing.array);
    const clear = (how.opacity ?? 1) < 1;
    if (clear) gl.enable(gl.BLEND);
    else gl.disable(gl.BLEND);
    gl.depthMask(!clear);
    if (how.over) gl.disable(gl.DEPTH_TEST);
    if (how.under) gl.enable(gl.POLYGON_OFFSET_FILL);
    if (clear) {
      gl.enable(gl.CULL_FACE);
      for (const side of [gl.FRONT, gl.BACK]) {
        gl.cullFace(side);
        gl.drawArrays(gl.TRIANGLES, 0, thing.count);
      }
      gl.disable(gl.CULL_FACE);
    } else {
      gl.drawArrays(gl.TRIANGLES, 0, thing.count);
    }
    if (how.over) gl.enable(gl.DEPTH_TEST);
    gl.disable(gl.POLYGON_OFFSET_FILL);
    gl.depthMask(true);
  }

  /**
   * Close a solid that is cut off: where a ray has gone into it more often than out of it behind the plane of the
   * cut, the plane lies in the solid, and there `cap` is drawn.
   * @param {Sent[]} solid
   * @param {Sent} cap
   * @param {Matrix} pose
   * @param {How} how
   */
  drawCap(solid, cap, pose, how) {
    const gl = this.gl;
    gl.enable(gl.STENCIL_TEST);
    gl.disable(gl.DEPTH_TEST);
    gl.colorMask(false, false, false, false);
    gl.stencilFunc(gl.ALWAYS, 0, 0xff);
    gl.stencilOpSeparate(gl.FRONT, gl.KEEP, gl.KEEP, gl.DECR_WRAP);
    gl.stencilOpSeparate(gl.BACK, gl.KEEP, gl.KEEP, gl.INCR_WRAP);
    for (const thing of solid) this.drawFaces(thing, pose, how);
    gl.enable(gl.DEPTH_TEST);
    gl.colorMask(true, true, true, true);
    gl.stencilFunc(gl.NOTEQUAL, 0, 0xff);
    gl.stencilOp(gl.KEEP, gl.KEEP, gl.KEEP);
    this.drawFaces(cap, pose);
    gl.disable(gl.STENCIL_TEST);
  }

  /**
   * @param {Sent} thing
   * @param {Matrix} pose
   * @param {How} how
   */
  drawLines(thing, pose, how = {}) {
    const gl = this.gl;
    this.use(this.lines, pose, { opacity: 0.75, ...how });
    gl.bindVertexArray(thing.array);
    gl.enable(gl.BLEND);
    gl.drawArrays(gl.LINES, 0, thing.count);
    gl.disable(gl.BLEND);
  }
}
