// How a scene stands on the page: what is changed against its file, and what was refused.

/** @import { Edit, State, Value } from "./shown.d.ts" */

/**
 * What stands in the scene at every path that is changed.
 * @param {State} state
 * @returns {Record<string, Value>}
 */
export const after = (state) => Object.fromEntries(Object.entries(state.changes).map(([path, pair]) => [path, pair[1]]));

/**
 * The edits that were refused and are tried again, texts and what waits for a choice between two hands: not those of a
 * field that is typed anew, nor of a list that changes.
 * @param {State} state
 * @param {Edit[]} edits
 */
export const again = (state, edits) =>
  state.refused.map((one) => one.edit).filter(({ path, do: what, over }) =>
    (what === "type" || over?.length) && !edits.some((edit) => edit.path === path || (!["type", "set"].includes(edit.do) && path.startsWith(edit.path.split(".")[0]))));

/**
 * The edits by which a state is laid over a file that another hand may have changed.
 * @param {State} state
 * @returns {Edit[]}
 */
export const laidOver = (state) => [
  ...Object.entries(state.changes).map(([path, [before, value]]) => ({ path, do: /** @type {const} */ ("set"), value, over: [before] })),
  ...again(state, []),
];

/**
 * A state as it differs from the file after some changes were saved to it.
 * @param {State} state
 * @param {State["changes"]} saved
 * @returns {State}
 */
export const rebased = (state, saved) => {
  /** @type {State["changes"]} */
  const back = Object.fromEntries(Object.entries(saved).map(([path, [before, now]]) => [path, [now, before]]));
  return { changes: { ...back, ...state.changes }, refused: state.refused };
};
