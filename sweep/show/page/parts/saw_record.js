// What was ticked, counted and measured at the saw: kept on the device by the job's digest, and written out as a file.

/** @import { Saw } from "./shown.d.ts" */

const OURS = "sweep at the saw ";
const LENGTH = /^\d{1,5}([.,]\d{1,4})?$|^\d{1,4}[ -]\d{1,3}\/\d{1,3}$|^\d{1,3}\/\d{1,3}$/;

/**
 * @typedef {object} Kept
 * @property {string} title
 * @property {string} date The day on which the first tick was made.
 * @property {string} at The step that is shown.
 * @property {string[]} done
 * @property {Record<string, boolean[]>} counted
 * @property {Record<string, Record<string, string>>} measured Texts by what is measured, and how exact.
 */

export class SawRecord {
  keeps = true; // whether this browser keeps anything

  /** @param {Saw} saw */
  constructor(saw) {
    this.saw = saw;
    this.name = OURS + saw.job;
    this.kept = this.read(this.name) ?? this.fresh();
    this.store();
  }

  /** @returns {Kept} */
  fresh() {
    return { title: this.saw.title, date: "", at: "", done: [], counted: {}, measured: {} };
  }

  /**
   * @param {string} name
   * @returns {Kept | null}
   */
  read(name) {
    try {
      const kept = JSON.parse(localStorage.getItem(name) ?? "null");
      const whole = kept && typeof kept.title === "string" && typeof kept.date === "string" && typeof kept.at === "string";
      return whole && Array.isArray(kept.done) && Object(kept.counted) === kept.counted && Object(kept.measured) === kept.measured ? kept : null;
    } catch {
      return null;
    }
  }

  store() {
    try {
      localStorage.setItem(this.name, JSON.stringify(this.kept));
    } catch {
      this.keeps = false; // refused: what is ticked lasts as long as the page
    }
  }

  // The last one of the same title that was begun before the scene was changed.
  get before() {
    try {
      const names = Object.keys(localStorage).filter((name) => name.startsWith(OURS) && name !== this.name);
      const found = names.map((name) => this.read(name)).filter((one) => one !== null);
      return found.filter((one) => one.title === this.saw.title && one.done.length).sort((a, b) => (a.date < b.date ? 1 : -1))[0] ?? null;
    } catch {
      return null;
    }
  }

  /** @param {() => unknown} act What is done to what is kept. */
  change(act) {
    this.kept.date ||= new Date().toLocaleDateString("sv"); // as 2026-11-26
    act();
    this.store();
  }

  /**
   * @param {string} key
   * @param {boolean} done
   */
  tick(key, done) {
    this.change(() => (this.kept.done = [...this.kept.done.filter((one) => one !== key), ...(done ? [key] : [])]));
  }

  /** @param {string} key */
  has(key) {
    return this.kept.done.includes(key);
  }

  /**
   * @param {string} key
   * @param {boolean[]} boxes
   */
  count(key, boxes) {
    this.change(() => (this.kept.counted[key] = boxes));
  }

  /**
   * Keep a text that was measured; an empty one is forgotten, and one that is no length is not taken.
   * @param {string} key
   * @param {string} name
   * @param {string} text
   * @returns {boolean}
   */
  measure(key, name, text) {
    const plain = text.trim();
    if (plain && !LENGTH.test(plain)) return false;
    const found = { ...this.kept.measured[key], [name]: plain };
    if (!plain) delete found[name];
    this.change(() => (this.kept.measured[key] = found));
    return true;
  }

  /** @param {string} key */
  at(key) {
    this.kept.at = key;
    this.store();
  }

  forget() {
    this.kept = this.fresh();
    this.store();
  }

  // The record as a file, in the form that `sweep keep` reads; see `scene/kept.py`.
  get toml() {
    const { steps, title, unit } = this.saw, { kept } = this;
    const ticked = steps.flatMap(({ key }, place) => (this.has(key) ? [place + 1] : []));
    const cuts = steps.filter(({ kind, key }) => kind === "cut" && !key.endsWith("scrap-cut"));
    const counted = cuts.map(({ key }) => (kept.counted[key] ?? []).filter(Boolean).length);
    const lines = ["record = 1", `title = ${JSON.stringify(title)}`];
    if (kept.date) lines.push(`date = ${JSON.stringify(kept.date)}`);
    lines.push(`steps = ${steps.length}`, `ticked = [${ticked.join(", ")}]`);
    lines.push(`counted = [${counted.some(Boolean) ? counted.join(", ") : ""}]`);
    for (const { key, measure } of steps) {
      const found = measure ? Object.entries(kept.measured[key] ?? {}) : [];
      if (!measure || !found.some(([name]) => name !== "accuracy")) continue;
      lines.push("", "[[measured]]", `setup = ${measure.setup}`, `after_pass = ${measure.pass}`);
      for (const [name, text] of found) lines.push(`${name} = "${text} ${unit}"`);
    }
    return `${lines.join("\n")}\n`;
  }
}
