// Questions to the program behind the page, and what the window says when there is none.

const given = document.querySelector("meta[name=key]").content;
if (given) {
  sessionStorage.setItem("key", given);
  history.replaceState(null, "", "/");
}
const key = given || sessionStorage.getItem("key") || "";
let told = () => {};
let ended = false;

export const nonce = document.querySelector("meta[name=nonce]").content;

/** Call `tell(true)` when the program has ended or refuses this window, `tell(false)` when it answers again. */
export function onEnd(tell) {
  told = tell;
}

function say(now, why) {
  if (now !== ended) {
    ended = now;
    told(now, why);
  }
}

/** The answer to a question; throws where there is none. */
export async function ask(question, fields = {}) {
  let response;
  try {
    response = await fetch(`/ask/${question}`, {
      method: "POST",
      headers: { authorization: `Bearer ${key}`, "content-type": "application/json" },
      body: JSON.stringify(fields),
    });
  } catch (bad) {
    say(true, "ended");
    throw bad;
  }
  if (response.status === 401 || response.status === 403) {
    say(true, "key");
    throw new Error("no key");
  }
  say(false);
  const answer = await response.json();
  if (!response.ok) throw new Error(answer.refused || String(response.status));
  return answer;
}

/** Hand over texts, by the name of their file, as the window closes. */
export function leave(texts) {
  const body = JSON.stringify({ texts });
  fetch("/ask/keep", {
    method: "POST",
    keepalive: body.length < 60_000,
    headers: { authorization: `Bearer ${key}`, "content-type": "application/json" },
    body,
  }).catch(() => {});
}
