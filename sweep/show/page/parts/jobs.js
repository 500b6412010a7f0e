// The page of a folder: its jobs are looked at one by one, and a new one is drawn while its answers are typed.

import { asked } from "./asking.js";
import { become } from "./become.js";
import { by, input, on, say } from "./elements.js";
import { Profile } from "./profile.js";
import { put } from "./section.js";

const PAUSE = 400; // milliseconds after the last letter, before the answers are looked at

/** @type {() => HTMLInputElement[]} */
const fields = () => [...document.querySelectorAll("input")].filter((one) => one.dataset.question);
const inches = input("in-inches");

const WAITING = by("sketch-words").textContent ?? ""; // until enough is answered

const profile = new Profile(() => inches.checked, () => later());

const answers = () => ({
  inches: inches.checked,
  profile: profile.given(),
  given: Object.fromEntries(fields().filter((one) => one.value.trim() && !one.closest("[hidden]")).map((one) => [one.dataset.question, one.value])),
});

async function lookAtJobs() {
  for (const job of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-job]"))) {
    const { answer } = await asked("summary", { name: job.dataset.job });
    const [drawing, said] = /** @type {HTMLElement[]} */ ([...job.children]);
    if (answer?.html) become(said, answer.html);
    if (answer?.section) put(drawing, answer.section);
  }
}

/** @param {Record<string, string>} refused */
function mark(refused) {
  for (const field of fields()) {
    const why = refused[field.dataset.question ?? ""] ?? "";
    say(`${field.id}-note`, why);
    field.ariaInvalid = String(Boolean(why));
  }
}

let looking = 0;

async function look() {
  const now = ++looking;
  const { answer, sentence } = await asked("sketch", answers());
  if (now !== looking) return;
  say("notices", sentence);
  if (!answer) return;
  mark(answer.refused);
  profile.told(answer.profile);
  if (answer.section) put(by("sketch"), answer.section);
  else by("sketch").replaceChildren();
  say("sketch-words", answer.refused[""] || answer.words || WAITING);
}

async function begin() {
  await look();
  const { answer, sentence } = await asked("new", { name: input("name").value, ...answers() });
  say("notices", sentence);
  if (answer) location.assign(answer.go);
}

let waiting = 0;

function later() {
  clearTimeout(waiting);
  waiting = setTimeout(look, PAUSE);
}

document.addEventListener("input", ({ target }) => {
  if (target instanceof HTMLInputElement && target.name === "units") {
    for (const field of fields().filter((one) => !one.dataset.known)) field.placeholder = (inches.checked ? field.dataset.in : field.dataset.mm) ?? "";
  }
  later();
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && event.target instanceof HTMLInputElement && event.target.dataset.question) begin();
});
on("begin", "click", begin);
lookAtJobs();
