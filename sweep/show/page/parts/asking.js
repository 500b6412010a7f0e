// The program that serves a live page, asked.

const STOPPED = "The program that serves this page has stopped: start it again and reload.";
const FAILED = "The program failed to work this out; it says why where it was started.";

/**
 * Either an answer, or a sentence that says why there is none and the setting that it is about.
 * @typedef {{ answer: any, field: string, sentence: string }} Reply
 */

/**
 * Post a question; a file comes as bytes, everything else as data.
 * @param {string} path
 * @param {object} question
 * @returns {Promise<Reply>}
 */
export async function asked(path, question) {
  let reply;
  try {
    reply = await fetch(`/${path}`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(question),
    });
    if (reply.ok) return { answer: path.startsWith("file/") ? await reply.blob() : await reply.json(), field: "", sentence: "" };
  } catch {
    return { answer: null, field: "", sentence: STOPPED };
  }
  const { field, sentence } = await reply.json().catch(() => ({ field: "", sentence: FAILED }));
  return { answer: null, field, sentence };
}
