// What the program sends to a page: the shapes of `page/model.py`, `page/settings.py` and `live/answers.py`.

export type Units = "mm" | "in" | "in-decimal";

/** Three numbers, mm in a frame of DEVELOPERS.md, or a colour, each from 0 to 1. */
export type Vector = number[];

/** A motion or a lens: 16 numbers, column by column. */
export type Matrix = number[];

/**
 * A mesh in base64: places as float32, or as uint16 steps from a low corner; corners as uint16 or, if wide, uint32; the
 * pass that cut each face as uint8 or uint16.
 */
export interface Packed {
  v: string;
  low?: Vector;
  step?: Vector;
  t: string;
  wide: boolean;
  by?: string;
  off?: string;
  moving?: string;
}

/** The stock over a stretch of a pass: exact at one travel, its moving corners shifted elsewhere. */
export interface Stretch extends Packed {
  first: number;
  last: number;
  at: number;
}

export interface Part extends Packed {
  name: string;
  colour: Vector;
}

export interface Flag {
  code: string;
  message: string;
}

/** A line of the list of all that is flagged: of a pass, or the job; mild where only the far end of an estimate is past it. */
export interface FlagLine {
  of: string;
  code: string;
  line: string;
  mild: boolean;
}

export interface Pass {
  number: number;
  cells: string[];
  told: string; // its height, and how near to which limit it comes
  flags: Flag[];
  colour: string;
  pull: string[]; // what the lettered arrows of its forces say
  chip: number;
  height: number;
  pose: Matrix;
  start: number;
  end: number;
}
export interface View {
  name: string;
  words: string;
  at: Vector;
  yaw: number;
  pitch: number;
  distance: number;
  points: Vector[];
  flat: boolean; // whether one looks along parallel lines
}

/** Drawings over a picture, as SVG: on paper its origin, which is `at` in the machine, and mm of paper to a mm. */
export interface Over {
  width: number;
  height: number;
  at: Vector;
  origin: Vector;
  scale: number;
  always: string;
  passes: string[];
}

export interface Legend {
  shades: string[];
  least: number;
  most: number;
  words: string[];
}

/** The section, and with a target the deviation from it, as SVG: drawn for places of some width, mm. */
export interface Section {
  width: number;
  frame: Vector;
  section: string;
  deviation?: string;
}

export interface Model {
  title: string;
  units: Units;
  set_up: string;
  fence: string; // how it is set, in half a sentence
  verdict: string;
  within: boolean | null;
  marks: string;
  forces: string;
  cautions: string;
  steps: string; // HTML
  alert: { words: string; flagged: boolean; pass: number | null };
  flags: FlagLine[];
  passes: Pass[];
  columns: [string, string][];
  stock: { length: number; width: number; thickness: number; pose: Matrix; feed: Vector };
  machine: Part[];
  blade?: Part[];
  views: View[];
  made?: View; // of the finished moulding on the bench, where the stock lay otherwise last
  wood: Vector;
  over: Record<string, Over[]>; // by the name of the view
  section: Section[];
  legends: { chip: Legend; deviation?: Legend };
  finished: number | null;
  stages: Record<number, Packed>;
  stretches: Record<number, Stretch[]>;
}

/** Of several set-ups there is a model for each, with what only it has: its name, the colour of what it takes. */
export interface SetUp extends Model {
  name: string;
  brief: string;
  flagged: number; // flags of this one, those of the whole job left out
  mark: string;
  of: number; // which of the set-ups it is of, from 0: a rabbet is two settings of the saw
  blade_as: number; // the set-up whose blade it is, from 0: drawn there
}

/** What is shown: a job of one set-up, or one of several; while a slider is held its steps are those of before. */
export type Shown = Model & Partial<SetUp>;

/** What the program sends of a job: a model of each set-up; while a setting is moved that of one, and which it is. */
export interface Come {
  model: Shown;
  rest?: Shown[];
  overview?: Section[];
  place?: number;
}


/** A value as TOML holds it; null for nothing. */
export type Value = string | number | boolean | Value[] | { [name: string]: Value } | null;

/** One thing done to the scene: see `scene/edits.py`. */
export interface Edit {
  path: string;
  do: "type" | "set" | "add" | "copy" | "remove" | "up" | "down" | "even" | "more" | "fewer" | "alone";
  value: Value;
  over?: Value[];
}

/** An edit that was left out, what its complaint is about, and why. */
export interface Refused {
  edit: Edit;
  path: string;
  sentence: string;
}

/** How a scene differs from its file, before and after at each path, and what was refused. */
export interface State {
  changes: Record<string, [Value, Value]>;
  refused: Refused[];
}

export interface Live {
  version: string;
  file: string;
  scene: string;
  /** Digests of the files that the scene takes from. */
  beside: Record<string, string>;
  files: string[];
  state: State;
}

/** What is measured after a pass of a set-up: what it is called, and what it should be. */
export interface SawMeasure {
  place: number;
  setup: number;
  pass: number;
  asked: [string, string][];
}

/** One screen of the phone at the saw; what it has none of is left out. */
export interface SawStep {
  key: string;
  kind: "read" | "pace" | "set" | "cut" | "barred" | "look";
  title: string;
  banner: string;
  over: string;
  words: string[];
  big?: [string, string, string][];
  flags?: string[];
  cautions?: [string, string][];
  picture?: number;
  paces?: [string, number][];
  count?: number;
  counts?: string;
  measure?: SawMeasure;
  tick?: string;
}

/** The work at the saw: every screen, the pictures that they name, and by what their ticks are kept. */
export interface Saw {
  title: string;
  named: string;
  job: string;
  unit: "mm" | "in";
  example: string;
  still: string;
  out: string;
  units: Units;
  says: Record<string, string>;
  tables: (SawTable | null)[];
  steps: SawStep[];
  pictures: string[];
}

/** What measurements tell after any pass: see `plan/correct/table.py`. Thousandths of a mm, and degrees. */
export interface SawTable {
  heights: number[];
  top: number;
  half_step: number;
  tolerance: number;
  stock_width: number;
  meant_angle: number;
  meant_offset: number;
  measured: number;
  set_height: number;
  set_angle: number;
  closest: number;
  kerf_width: number;
  flat_sign: number;
  angles: number[];
  depths: number[];
  widths: number[][];
  flats: number[][];
  marks: { edge: string; meant: number; now: number[]; by_offset: number[]; alone: number[]; alone_by_offset: number[] }[];
  off_angles: number[];
  off_heights: number[];
  off_offsets: number[];
  off: number[][][][];
  left: [number, number[] | null, number][];
  sliver: number;
  lift: number | null; // how much a turn of the wheel lifts the blade
  goes: string[]; // the feed of each pass, and where it halts
}

/** A setting as it was meant and as it was measured, with half of its 95 % interval. */
export interface SawSet {
  value: number;
  meant: number;
  half: number | null;
  as_meant: boolean;
}

/** What measurements after one pass tell; see `plan/correct/from_table.py`. */
export interface SawTold {
  angle: SawSet;
  height: SawSet;
  offset: SawSet;
  marks: { edge: string; by: number; alone: number }[];
  end: { width: number; depth: number; deviation: number };
  beyond: number;
  closest: number;
  in_reach: boolean;
  out_from: number | null;
  perhaps_from: number | null;
  start: number;
  passes: { height: number; rise: number; width: number }[] | null;
}

/** What stands in the page when it is opened; `live` only in one that is served, `rest` where there are more set-ups. */
export interface Data extends Come {
  live: Live | null;
  saw?: Saw;
}

export type Kind = "pass" | "deviation" | "chip" | "wood";
