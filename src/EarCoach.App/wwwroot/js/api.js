/** Requests to the program that serves this page. Every failure is an Error whose message can be shown as it is. */

async function call(method, path, body, options = {}) {
  const isFile = body instanceof Blob;
  let answer;
  try {
    answer = await fetch(path, {
      ...options,
      method,
      headers: body === undefined ? {} : { "Content-Type": isFile ? "application/octet-stream" : "application/json" },
      body: body === undefined || isFile ? body : JSON.stringify(body),
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
/** For little that must be kept even where the page is left at once: a browser refuses more than 64 KiB. */
export const putJson = (path, body) => call("PUT", path, body, { keepalive: true });
export const changeJson = async (path, body) => (await call("PUT", path, body)).json();
export const remove = path => call("DELETE", path);
export const postFile = async (path, file) => (await call("POST", path, file)).json();

/** An address with its query; what is null or undefined is left out. */
export function address(path, query) {
  const given = Object.entries(query).filter(([, value]) => value !== null && value !== undefined);
  return given.length ? `${path}?${new URLSearchParams(given)}` : path;
}

export async function postJson(path, body = {}) {
  const answer = await call("POST", path, body);
  return answer.status === 204 ? null : answer.json();
}
