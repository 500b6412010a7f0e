// What is not saved yet, kept by the browser for this page alone: it survives a reload and the end of the program.

/** @import { State, Value } from "./shown.d.ts" */

/**
 * What is kept of a scene: of which text of its file, how it stands, and what can be undone.
 * @typedef {{ version: string, state: State, past: State[], future: State[] }} Kept
 */

const MOST = 2_000_000; // letters: a browser keeps about 5 million; steps far back go first

/**
 * @param {string} name
 * @param {string | false | null} text Nothing takes away what was kept.
 */
function write(name, text) {
  try {
    if (text) sessionStorage.setItem(name, text);
    else sessionStorage.removeItem(name);
  } catch {
    // this browser keeps nothing: a reload asks before it loses what is there
  }
}

/** @param {string} name */
function read(name) {
  try {
    return JSON.parse(sessionStorage.getItem(name) ?? "null");
  } catch {
    return null;
  }
}

/**
 * @param {string} scene
 * @param {Kept} kept
 */
export function keep(scene, kept) {
  let text = JSON.stringify(kept), { past } = kept;
  while (text.length > MOST && past.length) {
    past = past.slice(Math.ceil(past.length / 2));
    text = JSON.stringify({ ...kept, past, future: [] });
  }
  write(scene, (Object.keys(kept.state.changes).length || kept.state.refused.length) > 0 && text);
}

/**
 * @param {string} scene
 * @returns {Kept | null}
 */
export function keptOf(scene) {
  const kept = read(scene);
  return kept?.state?.changes && kept.state.refused && Array.isArray(kept.past) && Array.isArray(kept.future) ? kept : null;
}

/**
 * What lies beside a scene, as it differs from a text of its file; null takes it away.
 * @param {string} scene
 * @param {string} version
 * @param {Record<string, Value> | null} changes
 */
export const keepBeside = (scene, version, changes) => write(`${scene} beside`, changes && JSON.stringify({ version, changes }));

/**
 * @param {string} scene
 * @param {string} version
 * @returns {Record<string, Value> | null}
 */
export function keptBeside(scene, version) {
  const kept = read(`${scene} beside`);
  return kept?.version === version && kept.changes ? kept.changes : null;
}
