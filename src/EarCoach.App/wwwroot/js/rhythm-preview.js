/** The passage on the first screen: as written, or in one of the rhythms that the drill will ask for. */

import { address, getJson, getText } from "./api.js";
import { showNotation } from "./notation.js";
import { settings } from "./settings-store.js";
import { element } from "./shapes.js";

const byId = id => document.getElementById(id);
const DRILL = "rhythm-variants";

export class RhythmPreview {
  #passageId = null;
  #name = "";
  #variants = [];
  #isRhythms = false;
  #wanted = "usual";
  #scaling = "equal-total";
  #turn = 0;

  constructor() {
    byId("rhythm-shown").addEventListener("change", () => this.#show());
  }

  async passageChanged(passageId, name) {
    this.#passageId = passageId;
    this.#name = name;
    this.#variants = await getJson(`/api/passages/${passageId}/variants`);
    this.#fill();
    await this.#show();
  }

  drillChanged(drillId, numbers) {
    const before = this.#isRhythms;
    this.#isRhythms = drillId === DRILL;
    this.#wanted = numbers.variants ?? "usual";
    this.#scaling = numbers.scaling ?? "equal-total";
    this.#fill();
    if (before && !this.#isRhythms) {
      this.#show();
    }
  }

  numberChanged(id, value) {
    if (id === "variants") {
      this.#wanted = value;
      this.#fill();
      this.#show();
    } else if (id === "scaling") {
      this.#scaling = value;
      this.#show();
    }
  }

  #fill() {
    const select = byId("rhythm-shown");
    const before = select.value;
    const coming = this.#variants.filter(variant => this.#wanted === "all" || (this.#wanted === "usual" ? variant.usual : variant.id === this.#wanted));
    select.replaceChildren(element("option", { value: "", text: "written" }), ...coming.map(variant => element("option", { value: variant.id, text: variant.name })));
    if (coming.some(variant => variant.id === before)) {
      select.value = before;
    }
    byId("rhythm-shown-label").hidden = !this.#isRhythms;
  }

  async #show() {
    if (!this.#passageId) {
      return;
    }
    const turn = ++this.#turn;
    const variant = this.#isRhythms ? byId("rhythm-shown").value || null : null;
    const scaling = variant ? (this.#scaling === "shorts-at-target" ? "ShortsAtTarget" : "EqualTotal") : null;
    const score = await getText(address(`/api/passages/${this.#passageId}/score`, { variant, scaling }));
    if (turn === this.#turn) {
      await showNotation(byId("preview"), score, { sizePercent: settings.noteSize * .8, label: variant ? `${this.#name}, in another rhythm` : this.#name });
    }
  }
}
