/** The tempo, seen and not heard: squares that light up in turn, steady or as one bar of count-in. */

import { element } from "./shapes.js";

export class Beat {
  #place;
  #timer = 0;
  #beats = 4;

  constructor(place) {
    this.#place = place;
  }

  /** Shows one bar of squares and lights them. mode: "off", "steady" or "count-in" (one bar, after a breath). */
  start(mode, beatsPerMinute, beatsPerBar) {
    this.stop();
    if (mode === "off" || !beatsPerMinute) {
      return;
    }
    this.#beats = Math.max(1, Math.min(12, beatsPerBar));
    this.#place.hidden = false;
    this.#place.replaceChildren(...Array.from({ length: this.#beats }, (_, i) => element("span", { text: String(i + 1) })));
    const beatMs = 60000 / beatsPerMinute;
    const begin = performance.now() + (mode === "count-in" ? 1200 : 0);
    const step = count => {
      this.#light(count % this.#beats);
      if (mode === "count-in" && count === this.#beats) {
        this.#light(-1);
        return;
      }
      // Each beat is timed from the first, so that late timers never add up.
      this.#timer = setTimeout(step, Math.max(0, begin + (count + 1) * beatMs - performance.now()), count + 1);
    };
    this.#timer = setTimeout(step, Math.max(0, begin - performance.now()), 0);
  }

  stop() {
    clearTimeout(this.#timer);
    this.#place.hidden = true;
  }

  #light(which) {
    [...this.#place.children].forEach((square, i) => square.classList.toggle("now", i === which));
  }
}
