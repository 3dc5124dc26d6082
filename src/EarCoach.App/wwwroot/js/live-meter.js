/** Shows the player that he is heard: the note, how far from its middle, and how loud. */

import { pitchName } from "./words.js";

const FLOOR_DBFS = -60;
const LOUD_DBFS = -3;

export class LiveMeter {
  #note = document.getElementById("live-note");
  #cents = document.getElementById("live-cents");
  #hand = document.getElementById("needle-hand");
  #bar = document.getElementById("level-bar");
  #words = document.getElementById("live-words");
  #newest = null;
  #drawn = false;
  #lastPitchMs = 0;

  /** Takes the newest reading; drawn with the next frame, older ones are dropped. */
  show(reading) {
    this.#newest = reading;
    if (!this.#drawn) {
      this.#drawn = true;
      requestAnimationFrame(() => this.#draw());
    }
  }

  #draw() {
    this.#drawn = false;
    const { midi, dbfs, transposition } = this.#newest;
    const now = performance.now();
    if (midi != null) {
      const nearest = Math.round(midi);
      const cents = Math.round((midi - nearest) * 100);
      this.#note.textContent = pitchName(nearest + transposition);
      this.#cents.textContent = `${cents > 0 ? "+" : cents < 0 ? "−" : "±"}${Math.abs(cents)} cents`;
      this.#hand.style.left = `${50 + cents}%`;
      this.#lastPitchMs = now;
    } else if (now - this.#lastPitchMs > 600) {
      this.#note.textContent = "–";
      this.#cents.textContent = "";
      this.#hand.style.left = "50%";
    }
    const share = Math.max(0, Math.min(1, (dbfs - FLOOR_DBFS) / -FLOOR_DBFS));
    this.#bar.style.width = `${Math.round(100 * share)}%`;
    this.#bar.classList.toggle("loud", dbfs > LOUD_DBFS);
    const words = dbfs > LOUD_DBFS ? "Too loud for the microphone" : dbfs > -55 ? "You are heard" : "Quiet";
    if (this.#words.textContent !== words) {
      this.#words.textContent = words;
    }
  }
}
