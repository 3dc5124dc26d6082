/** The screen while playing: readable from two metres, and nothing on it needs a hand. */

import { getText, postJson } from "../api.js";
import { Beat } from "../beat.js";
import { showCount } from "../count.js";
import { playCue } from "../cues.js";
import { keyName, listenForKeys } from "../keys.js";
import { LiveMeter } from "../live-meter.js";
import { clearFaults, markFaults, markTask } from "../marks.js";
import { fitInto, showNotation } from "../notation.js";
import { NumbersDialog } from "../numbers-dialog.js";
import { settings } from "../settings-store.js";
import { element, shape } from "../shapes.js";
import { keepAwake } from "../wake.js";
import { faultsOf, limitWords, withAccidentals } from "../words.js";

const BEFORE_THE_FIRST = { waiting: "No sound is received yet.", paused: "Paused: nothing counts until you go on." };

const byId = id => document.getElementById(id);

export class PlayScreen {
  #app;
  #meter = new LiveMeter();
  #beat = new Beat(byId("beat"));
  #numbers = new NumbersDialog();
  #shownScore = "";
  #svg = null;
  #word = "";
  #restTimer = 0;

  constructor(app) {
    this.#app = app;
    for (const button of document.querySelectorAll("[data-command]")) {
      button.addEventListener("click", () => this.#command(button.dataset.command));
    }
    listenForKeys(() => settings.keys, () => app.screen === "play" && !document.querySelector("dialog[open]"), command => this.#command(command));
    new ResizeObserver(() => this.#widthChanged()).observe(byId("task"));
  }

  enter() {
    for (const button of document.querySelectorAll("[data-command]")) {
      button.querySelector("kbd").textContent = (settings.keys[button.dataset.command] ?? []).map(keyName).join(" / ");
    }
    keepAwake(true);
    this.#shownScore = "";
    this.update(this.#app.view, []);
    byId("state").focus({ preventScroll: true });
  }

  leave() {
    keepAwake(false);
    this.#numbers.close();
    this.#beat.stop();
    byId("task").replaceChildren();
    this.#shownScore = "";
    if (this.#app.view?.drill.phase === "done") {
      this.#app.sound.close();
      sessionStorage.removeItem("listening");
    }
  }

  /** After a reload: takes the microphone again by itself. */
  async goOn() {
    try {
      await this.#app.sound.openMicrophone(settings.deviceId);
      this.#app.tell(this.#app.sound.warnings.join(" "));
    } catch (error) {
      this.#app.tell(error.message);
    }
  }

  /** Anything but a verdict has changed. */
  update(view, effects) {
    if (this.#app.screen !== "play" || !view) {
      return;
    }
    this.#showWord(view.word);
    showCount(byId("count"), view.drill, lostBy(effects));
    this.#showWords(view);
    this.#showVerdict(view);
    this.#showTask(view);
  }

  /** An attempt was judged; it is stored already. */
  verdict(view, effects) {
    this.update(view, effects);
    const finishedSet = effects.some(effect => effect.type === "set-finished" || effect.type === "finished");
    const cue = finishedSet ? "set" : view.last.verdict;
    const sounded = playCue(this.#app.sound.context, cue, settings.cues, view.task?.firstMidi);
    if (sounded) {
      this.#app.sound.announceCue(sounded);
    }
    if (settings.beat === "count-in" && view.task) {
      this.#beat.start("count-in", view.task.beatsPerMinute, view.task.beatsPerBar);
    }
    if (view.drill.phase === "done") {
      keepAwake(false);
    }
  }

  live(reading) {
    if (this.#app.screen === "play" && this.#app.view) {
      this.#meter.show({ ...reading, transposition: this.#app.view.passage.transposition });
      this.#showWord(reading.word);
    }
  }

  #showWord(word) {
    if (word === this.#word) {
      return;
    }
    this.#word = word;
    byId("state").dataset.state = word;
    byId("state-word").textContent = word;
    byId("state-use").setAttribute("href", `#shape-${word}`);
  }

  async #showTask(view) {
    const task = view.task;
    const score = task?.score ?? view.last?.score;
    if (!score) {
      return;
    }
    const key = `${score} ${byId("task").clientWidth} ${settings.noteSize}`;
    if (this.#shownScore === key && this.#svg) {
      fitInto(byId("task"), this.#svg); // the height may have changed
    }
    if (this.#shownScore !== key) {
      this.#shownScore = key;
      const musicXml = await getText(score);
      const svg = await showNotation(byId("task"), musicXml, { sizePercent: settings.noteSize, label: task?.sentence ?? view.passage.title });
      if (svg) {
        this.#svg = svg;
      }
    }
    if (!this.#svg) {
      return;
    }
    const now = this.#app.view; // a newer one may have come while the notes were drawn
    if (now.task && now.task.score === score) {
      const bracket = markTask(this.#svg, now.task.shownFirst, now.task.shownCount, now.task.shownTotal);
      bracket?.scrollIntoView({ block: "nearest", inline: "nearest" });
    }
    clearFaults(this.#svg);
    if (now.last && now.last.score === score) {
      markFaults(this.#svg, faultsOf(now.last));
    }
    if (settings.beat === "steady" && now.task) {
      this.#beat.start("steady", now.task.beatsPerMinute, now.task.beatsPerBar);
    }
  }

  #widthChanged() {
    if (this.#app.screen === "play" && this.#app.view && this.#svg) {
      this.#showTask(this.#app.view);
    }
  }

  #showVerdict(view) {
    const last = view.last;
    const place = byId("verdict");
    place.dataset.verdict = last?.verdict ?? "";
    place.dataset.number = last ? String(last.number) : "";
    byId("verdict-faults").replaceChildren();
    byId("verdict-mark").replaceChildren();
    byId("verdict-limits").textContent = view.task ? limitWords(view.task.limits) : "";
    if (!last) {
      byId("verdict-word").textContent = BEFORE_THE_FIRST[view.word] ?? "Play when you are ready.";
      return;
    }
    byId("verdict-mark").append(shape(`mark-${last.verdict}`));
    byId("verdict-word").textContent = last.headline;
    byId("verdict-limits").textContent = limitWords(last.limits);
    byId("verdict-faults").append(...faultsOf(last).map(fault => element("li", {},
      element("span", { className: "fault-count", text: fault.number ?? "" }), element("span", { text: fault.words }))));
  }

  /** The task in words; before it a rest or an easier way, where one is proposed. */
  #showWords(view) {
    clearInterval(this.#restTimer);
    const task = view.task ? withAccidentals(view.task.sentence) : "All done. Put the instrument down and rest.";
    const endsAt = view.rest?.endsAt ? Date.parse(view.rest.endsAt) : null;
    const show = () => {
      const left = endsAt ? Math.max(0, Math.round((endsAt - Date.now()) / 1000)) : 0;
      const rest = view.rest ? `${view.rest.sentence}${left ? ` (${left} s)` : ""}` : "";
      byId("task-words").textContent = [rest, view.hint, task].filter(Boolean).join(" ");
    };
    show();
    if (endsAt) {
      this.#restTimer = setInterval(show, 1000);
    }
  }

  async #command(command) {
    const paused = this.#app.view?.drill.phase === "paused";
    const name = command === "pause" && paused ? "resume" : command;
    try {
      if (command === "numbers") {
        await this.#numbers.open();
        return;
      }
      await postJson("/api/session/commands", { command: name });
      if (command === "end") {
        this.#app.sound.close();
        sessionStorage.removeItem("listening");
        this.#app.go("after");
      }
    } catch (error) {
      this.#app.tell(error.message);
    }
  }
}

const lostBy = effects => effects.find(effect => effect.type === "count-emptied")?.lost ?? 0;
