// The program that serves a live page, asked.

const STOPPED = "The program that serves this page has stopped. What is changed is kept here: start it again.";
const FAILED = "The program failed to work this out; it says why where it was started.";

/**
 * Either an answer, or a sentence that says why there is none; and whether the program did not answer at all.
 * @typedef {{ answer: any, sentence: string, stopped: boolean }} Reply
 */

/**
 * Post a question to whoever serves this page; a file comes as bytes, everything else as data.
 * @param {string} path
 * @param {object} question
 * @returns {Promise<Reply>}
 */
export async function asked(path, question) {
  let reply;
  try {
    reply = await fetch(path, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(question),
    });
    if (reply.ok) return { answer: path.startsWith("file/") ? await reply.blob() : await reply.json(), sentence: "", stopped: false };
  } catch {
    return { answer: null, sentence: STOPPED, stopped: true };
  }
  const { sentence } = await reply.json().catch(() => ({ sentence: FAILED }));
  return { answer: null, sentence, stopped: false };
}
