// The phone's page of a job that is served: the steps as they were when it was opened, and whether the job has changed.

import { asked } from "./asking.js";
import { AtSaw } from "./at_saw.js";
import { by } from "./elements.js";

/** @import { Saw } from "./shown.d.ts" */

const EVERY = 5000; // milliseconds between two looks

/** @type {{ saw: Saw, version: string, units: string }} */
const { saw, version, units } = JSON.parse(by("data").textContent ?? "");
const mode = new AtSaw(saw);
mode.begin();
const watch = setInterval(async () => {
  const { answer } = await asked("now", { version, units, changes: {} });
  if (!answer || answer.words || answer.version === version) return;
  clearInterval(watch);
  mode.tell(`The job has changed since this page was opened: the file was saved at ${answer.at}. Load the page anew before the next step.`);
}, EVERY);

// Where a browser's console and the tests find it.
Object.assign(window, { sweepSaw: mode });
