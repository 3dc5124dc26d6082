/** The line that offers to take the newest change of the library back. The program keeps it, so a reload loses nothing. */

import { getJson, postJson } from "./api.js";

export class UndoBar {
  #place;
  #undo = null;

  constructor(place, onUndone, onProblem) {
    this.#place = place;
    place.querySelector("button").addEventListener("click", async () => {
      try {
        await postJson("/api/library/undo", this.#undo);
        onUndone();
      } catch (error) {
        onProblem(error.message);
      }
    });
  }

  show(undo) {
    this.#undo = undo ?? null;
    this.#place.hidden = !undo;
    this.#place.querySelector("span").textContent = undo?.words ?? "";
  }

  async refresh() {
    this.show((await getJson("/api/library/undo")).undo);
  }
}
