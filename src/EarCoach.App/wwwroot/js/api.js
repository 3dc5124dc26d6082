/** Requests to the program that serves this page. Every failure is an Error whose message can be shown as it is. */

async function call(method, path, body) {
  let answer;
  try {
    answer = await fetch(path, {
      method,
      headers: body === undefined ? {} : { "Content-Type": "application/json" },
      body: body === undefined ? undefined : JSON.stringify(body),
    });
  } catch {
    throw new Error("The program does not answer. If it was stopped, start earcoach again: nothing that was shown is lost.");
  }
  if (!answer.ok) {
    const type = answer.headers.get("Content-Type") ?? "";
    const told = type.includes("json") ? (await answer.json()).message : await answer.text();
    throw new Error(told || `The program answered ${answer.status} to ${method} ${path}.`);
  }
  return answer;
}

export const getJson = async path => (await call("GET", path)).json();
export const getText = async path => (await call("GET", path)).text();
export const getBytes = async path => (await call("GET", path)).arrayBuffer();
export const putJson = (path, body) => call("PUT", path, body);

export async function postJson(path, body = {}) {
  const answer = await call("POST", path, body);
  return answer.status === 204 ? null : answer.json();
}
