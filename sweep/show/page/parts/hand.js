// The picture of the saw turned, shifted and come nearer to, by mouse, fingers and keys.

/** @import { SawView } from "./saw_view.js" */

/** @type {Map<string, [number, number]>} Radians across and upright that a key turns the view by. */
const TURNS = new Map([["ArrowLeft", [-0.1, 0]], ["ArrowRight", [0.1, 0]], ["ArrowUp", [0, 0.08]], ["ArrowDown", [0, -0.08]]]);

/** @param {SawView} view */
export function listenTo(view) {
  const { canvas } = view;
  /** @type {Map<number, [number, number]>} */
  const down = new Map();
  let travelled = 0;
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    if (!down.size) travelled = 0;
    down.set(event.pointerId, [event.clientX, event.clientY]);
  });
  canvas.addEventListener("pointermove", (event) => {
    const before = down.get(event.pointerId);
    if (!before || (event.pointerType === "touch" && document.activeElement !== canvas)) return;
    const dx = event.clientX - before[0], dy = event.clientY - before[1];
    travelled += Math.abs(dx) + Math.abs(dy);
    if (down.size === 2) {
      const other = [...down].find(([id]) => id !== event.pointerId)?.[1] ?? before;
      /** @type {(p: [number, number]) => number} */
      const apart = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
      view.nearer(apart([event.clientX, event.clientY]) / apart(before));
      view.slide(dx / 2, dy / 2);
    } else if (event.buttons === 2 || event.shiftKey) view.slide(dx, dy);
    else view.turn(dx * 0.008, dy * 0.008);
    down.set(event.pointerId, [event.clientX, event.clientY]);
  });
  /** @param {PointerEvent} event */
  const up = (event) => {
    if (down.delete(event.pointerId) && travelled < 5 && event.type === "pointerup") {
      const number = view.passAt(event.clientX, event.clientY);
      if (number) view.picked(number);
    }
  };
  canvas.addEventListener("pointerup", up);
  canvas.addEventListener("pointercancel", up);
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    view.nearer(Math.exp(-event.deltaY * 0.0012));
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    const turns = TURNS.get(event.key);
    if (turns) view.turn(...turns);
    else if (event.key === "+" || event.key === "=") view.nearer(1.15);
    else if (event.key === "-") view.nearer(1 / 1.15);
    else return;
    event.preventDefault();
  });
}
