/** After playing: what was done, and every attempt to hear again. */

import { getJson, getText } from "../api.js";
import { showCount } from "../count.js";
import { markFaults, markTask } from "../marks.js";
import { showNotation } from "../notation.js";
import { settings } from "../settings-store.js";
import { element, shape } from "../shapes.js";
import { faultsOf, withAccidentals } from "../words.js";

const byId = id => document.getElementById(id);

export class AfterScreen {
  #app;

  constructor(app) {
    this.#app = app;
  }

  async enter() {
    const summary = byId("after-summary");
    byId("attempt-list").replaceChildren();
    byId("clip-notation").replaceChildren();
    byId("clip-notation").hidden = true;
    byId("clip").removeAttribute("src");
    byId("clip-words").textContent = "Choose an attempt below.";
    let done;
    try {
      done = await getJson("/api/session/summary");
    } catch (error) {
      summary.replaceChildren(element("p", { text: error.message }));
      return;
    }
    if (!done.view) {
      summary.replaceChildren(element("p", { text: "Nothing has been practised yet. Choose a passage and play: every attempt will be listed here, to be heard again." }));
      return;
    }
    this.#showSummary(done);
    byId("attempt-list").replaceChildren(...done.attempts.toReversed().map(attempt => this.#row(attempt)));
    const newestMissed = done.attempts.findLast(attempt => attempt.verdict === "missed");
    if (newestMissed) {
      this.#hear(newestMissed, false);
    }
  }

  leave() {
    byId("clip").pause();
    byId("clip-notation").replaceChildren();
  }

  #showSummary({ view, attempts }) {
    const of = verdict => attempts.filter(attempt => attempt.verdict === verdict).length;
    const judged = of("clean") + of("missed");
    const facts = [
      ["Passage", view.passage.title],
      ["Drill", view.drill.name],
      ["Clean", judged ? `${of("clean")} of ${judged} (${Math.round(100 * of("clean") / judged)} %)` : "none yet"],
      ["Missed", String(of("missed"))],
      ["Not counted", String(of("not-counted"))],
      ["Playing time", `${Math.floor(view.playedSeconds / 60)} min ${Math.round(view.playedSeconds % 60)} s`],
    ];
    const list = element("dl");
    for (const [term, text] of facts) {
      list.append(element("dt", { text: term }), element("dd", { text }));
    }
    const count = element("div", { className: "count", role: "img" });
    showCount(count, view.drill);
    byId("after-summary").replaceChildren(list, count);
  }

  #row(attempt) {
    const faults = faultsOf(attempt).map(fault => fault.words);
    const words = element("div", {}, element("strong", { text: `${attempt.place}. ${attempt.headline}` }),
      element("small", { text: [withAccidentals(attempt.sentence), ...faults].join(" · ") }));
    const button = element("button", { type: "button", text: "Hear it", "aria-label": `Hear it: attempt ${attempt.place}. ${attempt.headline}` });
    button.addEventListener("click", () => this.#hear(attempt, true));
    return element("li", { "data-verdict": attempt.verdict }, shape(`mark-${attempt.verdict}`), words, button);
  }

  async #hear(attempt, play) {
    const clip = byId("clip");
    clip.src = attempt.clip;
    byId("clip-words").textContent = `Attempt ${attempt.place}. ${attempt.headline} ${withAccidentals(attempt.sentence)}`;
    if (play) {
      clip.play().catch(() => { byId("clip-words").textContent += " The clip could not be played."; });
    }
    const place = byId("clip-notation");
    place.hidden = false;
    const svg = await showNotation(place, await getText(attempt.score), { sizePercent: settings.noteSize * .8, label: attempt.sentence });
    if (svg) {
      markTask(svg, attempt.shownFirst, attempt.shownCount, attempt.shownTotal);
      markFaults(svg, faultsOf(attempt));
    }
  }
}
