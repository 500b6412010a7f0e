// What only a page that is sent shows: how the saw is set, without a way to change it, and the files that it holds.

import { by, element } from "./elements.js";

/** @import { Setting } from "./shown.d.ts" */

/** @param {Setting[]} rows */
export function tellSettings(rows) {
  by("set").replaceChildren(...rows.flatMap((row) => [element("dt", {}, row.label), element("dd", {}, row.text)]));
}

/**
 * Links to files in base64, by their names.
 * @param {Record<string, string>} files
 */
export function linkFiles(files) {
  for (const [name, held] of Object.entries(files)) {
    const kind = name.endsWith(".pdf") ? "application/pdf" : "application/octet-stream";
    by("files").append(element("a", { class: "button", href: `data:${kind};base64,${held}`, download: name }, name));
  }
}
