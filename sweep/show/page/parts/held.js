// What a page holds: JSON as it stands, or packed by gzip where the page is a file of its own, to be sent.

import { say, the } from "./elements.js";

const OLD = "This browser is too old to unpack what this page holds: open the page in one of 2023 or later. The sheet, sheet.pdf, has the same figures.";

/** @returns {Promise<any>} */
export async function pageData() {
  const place = the("data", HTMLScriptElement), text = place.textContent ?? "";
  if (place.type === "application/json") return JSON.parse(text);
  if (!("DecompressionStream" in window)) {
    say("alert", OLD);
    throw new Error(OLD);
  }
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).json();
}
