/** Changes the numbers of the drill under way. The count is kept as far as the new numbers allow. */

import { getJson, postJson } from "./api.js";
import { numberFields } from "./number-fields.js";

const byId = id => document.getElementById(id);

export class NumbersDialog {
  #dialog = byId("numbers-dialog");
  #drill = {};
  #strictness = {};

  constructor() {
    byId("numbers-form").addEventListener("submit", event => {
      event.preventDefault();
      this.#use();
    });
    byId("numbers-leave").addEventListener("click", () => this.#dialog.close());
  }

  /** Shows the numbers now in force. */
  async open() {
    if (this.#dialog.open) {
      return;
    }
    const { drill, strictness } = await getJson("/api/session/numbers");
    this.#drill = {};
    this.#strictness = {};
    byId("numbers-problem").textContent = "";
    byId("numbers-drill").replaceChildren(...numberFields(drill, this.#drill));
    byId("numbers-strictness").replaceChildren(...numberFields(strictness, this.#strictness));
    this.#dialog.showModal();
  }

  close() {
    this.#dialog.close();
  }

  async #use() {
    try {
      await postJson("/api/session/numbers", { drillNumbers: this.#drill, strictnessNumbers: this.#strictness });
      this.#dialog.close();
    } catch (error) {
      byId("numbers-problem").textContent = error.message;
    }
  }
}
