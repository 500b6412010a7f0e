// What is not saved yet, kept by the browser for this page alone: it survives a reload and the end of the program.

/** @import { State, Value } from "./shown.d.ts" */

/**
 * What is kept of a scene: of which text of its file, how it stands, and what can be undone.
 * @typedef {{ version: string, state: State, past: State[], future: State[] }} Kept
 */

const MOST = 2_000_000; // letters: a browser keeps about 5 million; steps far back go first

/**
 * @param {string} scene
 * @param {Kept} kept
 */
export function keep(scene, kept) {
  const { past, future, ...now } = kept;
  const some = Object.keys(now.state.changes).length || now.state.refused.length;
  try {
    if (!some) return sessionStorage.removeItem(scene);
    let steps = past;
    let text = JSON.stringify({ ...now, past: steps, future });
    while (text.length > MOST && steps.length) {
      steps = steps.slice(Math.ceil(steps.length / 2));
      text = JSON.stringify({ ...now, past: steps, future: [] });
    }
    sessionStorage.setItem(scene, text);
  } catch {
    // this browser keeps nothing: a reload asks before it loses what is there
  }
}

/**
 * @param {string} scene
 * @returns {Kept | null}
 */
export function keptOf(scene) {
  try {
    const kept = JSON.parse(sessionStorage.getItem(scene) ?? "null");
    return kept?.state?.changes && kept.state.refused && Array.isArray(kept.past) && Array.isArray(kept.future) ? kept : null;
  } catch {
    return null;
  }
}

/**
 * What lies beside a scene, as it differs from a text of its file; null takes it away.
 * @param {string} scene
 * @param {string} version
 * @param {Record<string, Value> | null} changes
 */
export function keepBeside(scene, version, changes) {
  try {
    if (changes) sessionStorage.setItem(`${scene} beside`, JSON.stringify({ version, changes }));
    else sessionStorage.removeItem(`${scene} beside`);
  } catch {
    // it is laid there once more by hand
  }
}

/**
 * @param {string} scene
 * @param {string} version
 * @returns {Record<string, Value> | null}
 */
export function keptBeside(scene, version) {
  try {
    const kept = JSON.parse(sessionStorage.getItem(`${scene} beside`) ?? "null");
    return kept?.version === version && kept.changes ? kept.changes : null;
  } catch {
    return null;
  }
}
