/** Puts engraved notation into a place of the page. */

const worker = new Worker("js/notation-worker.js", { type: "module" });
const waiting = new Map();
let lastId = 0;

worker.onmessage = event => {
  const { id, svg, problem } = event.data;
  const promise = waiting.get(id);
  waiting.delete(id);
  if (problem) {
    promise.reject(new Error(problem));
  } else {
    promise.resolve(svg);
  }
};

function engrave(musicXml, widthPx, scale) {
  return new Promise((resolve, reject) => {
    const id = ++lastId;
    waiting.set(id, { resolve, reject });
    worker.postMessage({ id, musicXml, widthPx, scale });
  });
}

/**
 * Engraves into an element, at its width. Note n of the passage carries the id "n" + n, its tied continuations "n" + n + "-2" and so on.
 * Returns the SVG element, or null when something newer was asked of the same place meanwhile.
 */
export async function showNotation(place, musicXml, { sizePercent = 100, label = "The passage in notation" } = {}) {
  const turn = Symbol("turn");
  place.notationTurn = turn;
  const scale = Math.round(45 * sizePercent / 100);
  let text;
  try {
    text = await engrave(musicXml, place.clientWidth || 800, scale);
  } catch (error) {
    const words = document.createElement("p");
    words.className = "engrave-problem";
    words.textContent = `The passage could not be drawn: ${error.message}`;
    place.replaceChildren(words);
    return null;
  }
  if (place.notationTurn !== turn) {
    return null;
  }
  // The page allows no inline styles; notation.css says the same things.
  const clean = text.replace(/<style[\s\S]*?<\/style>/g, "").replace(/ style="[^"]*"/g, "");
  const svg = document.importNode(new DOMParser().parseFromString(clean, "image/svg+xml").documentElement, true);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", label);
  place.replaceChildren(svg);
  fitInto(place, svg);
  return svg;
}

const LARGEST = 2.4; // a few notes alone are not blown up further than this
const SMALLEST = 0.7; // rather a little smaller than scrolled

/** A short passage is enlarged, or made a little smaller, as its place allows; a long one keeps the width of its place and is scrolled. */
export function fitInto(place, svg) {
  const [, , width, height] = svg.getAttribute("viewBox").split(" ").map(Number);
  const byWidth = Math.min(place.clientWidth / width, LARGEST);
  const fit = place.clientHeight / height;
  const byHeight = fit >= SMALLEST ? fit : Math.min(1, byWidth);
  svg.style.width = `${Math.floor(width * Math.min(byWidth, byHeight))}px`;
}

const indexed = new WeakMap();

/** The drawn parts of one note of the passage: its head and, where it is tied over a bar line, the heads after it. */
export function partsOfNote(svg, index) {
  if (!indexed.has(svg)) {
    // A long part has thousands of notes: they are looked for once.
    const parts = new Map();
    for (const part of svg.querySelectorAll('[id^="n"]')) {
      const number = /^n(\d+)(-\d+)?$/.exec(part.id)?.[1];
      if (number !== undefined) {
        parts.set(Number(number), [...(parts.get(Number(number)) ?? []), part]);
      }
    }
    indexed.set(svg, parts);
  }
  return indexed.get(svg).get(index) ?? [];
}
