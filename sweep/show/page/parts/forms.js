// What a maker does in the forms: types, moves a slider, presses a button.

import { isControl } from "./become.js";
import { input, on, select } from "./elements.js";
import { written } from "./notation.js";

/** @import { Control } from "./become.js" */
/** @import { Editor } from "./edits.js" */
/** @import { Edit } from "./shown.d.ts" */

/**
 * Let what is done in the cards be done to the scene.
 * @param {Editor} editor
 */
export function listen(editor) {
  on("cards", "input", ({ target }) => {
    if (!isControl(target)) return;
    if (target.type === "range") slide(target, editor);
    else target.dataset.typing = "yes";
  });
  on("cards", "change", ({ target }) => {
    if (!isControl(target) || !target.dataset.path) return;
    delete target.dataset.typing;
    if (target.type === "range") editor.release();
    else editor.do([{ path: target.dataset.path, do: "type", value: target.value }], wordsOf(target, target.value));
  });
  on("cards", "click", ({ target }) => {
    const button = target instanceof Element ? target.closest("button") : null;
    if (button) press(button, editor);
  });
  on("cards", "keydown", (event) => {
    const { target } = event;
    if (event.key === "Escape" && isControl(target) && target.dataset.path) letGo(target, editor);
    if (event.key === "Enter" && target instanceof HTMLInputElement && target.dataset.path?.includes("heights")) down(target);
  });
  document.addEventListener("keydown", (event) => key(event, editor));
}

/**
 * @param {HTMLButtonElement} button
 * @param {Editor} editor
 */
function press(button, editor) {
  const { do: what, path, valueFrom } = button.dataset;
  if (what === "drop") editor.drop();
  else if (what === "save-as") editor.copy(input("copy-name").value);
  else if (what === "shop" && path) editor.toShop(path);
  else if (what === "leave" && path) editor.leave(path);
  else if (what === "mine" && path) editor.mine(path);
  else if (what === "back" && path) editor.do([{ path, do: "set", value: editor.state.changes[path]?.[0] ?? null }], "");
  else if (what && path) {
    const value = valueFrom ? select(valueFrom).value : null;
    editor.do([{ path, do: /** @type {Edit["do"]} */ (what), value }], "");
  }
}

/**
 * A text that was refused is let go: what stands in the scene comes back.
 * @param {Control} control
 * @param {Editor} editor
 */
function letGo(control, editor) {
  delete control.dataset.typing;
  editor.leave(control.dataset.path ?? "");
}

/**
 * @param {Control} slider
 * @param {Editor} editor
 */
function slide(slider, editor) {
  const path = slider.dataset.path ?? "", text = written(slider.dataset.unit ?? "", Number(slider.value));
  const field = document.getElementById(slider.id.replace("-slider", ""));
  if (field instanceof HTMLInputElement) field.value = text;
  slider.ariaValueText = text;
  editor.move({ path, do: "type", value: text }, wordsOf(field, text));
}

/**
 * @param {KeyboardEvent} event
 * @param {Editor} editor
 */
function key(event, editor) {
  if (!(event.ctrlKey || event.metaKey)) return;
  const letter = event.key.toLowerCase(), typing = isControl(event.target) && event.target.dataset.typing;
  if (letter === "s") {
    if (typing) event.target?.dispatchEvent(new Event("change", { bubbles: true }));
    editor.save();
  } else if (letter === "z" && !typing) editor.turn(event.shiftKey ? "redo" : "undo");
  else return;
  event.preventDefault();
}

/**
 * A field and what is to stand in it, in words.
 * @param {Element | null} field
 * @param {string} text
 */
const wordsOf = (field, text) => `${(isControl(field) && (field.labels?.[0]?.textContent ?? field.ariaLabel)) || ""} ${text}`.replace(" *", "").trim();

/**
 * From a height go to the next one.
 * @param {HTMLInputElement} height
 */
function down(height) {
  const number = Number(height.id.split("-").at(-1));
  const next = document.getElementById(height.id.replace(/\d+$/, String(number + 1)));
  if (next) setTimeout(() => next.focus());
}
