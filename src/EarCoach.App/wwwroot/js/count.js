/** The count as shapes: a notched block for each clean take, a seal for each finished set. */

import { element, shape } from "./shapes.js";

const MANY = 8; // more shapes than this are drawn at half size; the figure says the number anyway

const STAGE_WORDS = {
  chain: drill => `length ${drill.stage + 1} of ${drill.stages}`,
  "rhythm-variants": drill => `variant ${drill.stage + 1} of ${drill.stages}`,
  "tempo-ladder": drill => `tempo ${drill.stage + 1} of ${drill.stages}`,
  "trouble-spot": drill => `step ${drill.stage + 1} of ${drill.stages}`,
  proof: drill => `set ${drill.stage + 1} of ${drill.stages}`,
  rotation: drill => `turn ${drill.stage + 1} of ${drill.stages}`,
  "cold-take": () => "one take",
};

function row(count, needed, lost) {
  const line = element("div", { className: needed > MANY ? "count-row many" : "count-row" });
  for (let i = 0; i < needed; i++) {
    const got = i < count;
    const wasLost = !got && i < lost;
    line.append(shape(wasLost ? "block-lost" : "block", got ? "block-got" : wasLost ? "block-lost" : "block-open", "0 0 64 100"));
  }
  return line;
}

export function seals(got, needed) {
  const line = element("div", { className: needed > MANY ? "count-row many" : "count-row" });
  line.style.setProperty("--shape", "1");
  for (let i = 0; i < needed; i++) {
    line.append(shape(i < got ? "seal" : "seal-empty"));
  }
  return line;
}

/** Draws the count of a drill. lost: how many clean takes a miss has just emptied. */
export function showCount(place, drill, lost = 0) {
  const parts = [];
  let label;
  if (drill.phase === "done") {
    const text = drill.kind === "proof" ? `${drill.seals} of ${drill.stages} seals` : `${drill.stages - drill.skipped} of ${drill.stages} passed`;
    parts.push(...(drill.kind === "proof" ? [seals(drill.seals, drill.stages)] : []), element("p", { className: "count-words", text }));
    label = `Done: ${text}`;
  } else {
    const unit = drill.kind === "rotation" ? "attempts" : "clean running";
    const stage = STAGE_WORDS[drill.kind]?.(drill) ?? "";
    const figure = element("div", { className: "count-figure", text: String(drill.count) });
    figure.append(element("small", { text: `/${drill.needed}` }));
    parts.push(figure, row(drill.count, drill.needed, lost));
    if (drill.kind === "proof") {
      parts.push(seals(drill.seals, drill.stages));
    }
    parts.push(element("p", { className: "count-words", text: stage }));
    const sealWords = drill.kind === "proof" ? `, ${drill.seals} of ${drill.stages} seals` : "";
    label = `${drill.count} of ${drill.needed} ${unit}${sealWords}; ${stage}`;
  }
  place.replaceChildren(...parts);
  place.setAttribute("aria-label", label);
  place.dataset.count = String(drill.count);
  place.dataset.needed = String(drill.needed);
  place.dataset.stage = String(drill.stage);
  place.dataset.seals = String(drill.seals);
}
