// What the forms of a page go by: the page that they stand on, and what a maker does to them.

import type { Edit, State, Value } from "./shown.d.ts";

/** The page that the forms stand on: it asks the program that serves it, and shows what comes. */
export interface Desk {
  ask: (path: string, more: object) => Promise<any>; // null where nothing came; the page has said why
  moment: () => { pass: number; travel: number | null; width: number };
  become: (reply: any) => void;
  lag: (words: string) => void;
  rebased: (back: Record<string, Value> | null) => void; // what was saved, taken back; or null for another text
  gone: boolean; // whether the program has stopped
}

/** One thing that a maker did: edits, or a step back or forth; a slider that is held moves on. */
export interface Gesture {
  edits: Edit[];
  turn?: "undo" | "redo" | "again" | State;
  held?: boolean;
  words: string;
  moved?: number;
}
