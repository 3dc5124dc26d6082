/** A few bars typed as pitch names and note values, engraved as they are typed. */

import { postJson } from "../api.js";
import { InstrumentPicker } from "../instrument-picker.js";
import { showNotation } from "../notation.js";
import { settings } from "../settings-store.js";
import { element } from "../shapes.js";
import { sentence, withAccidentals } from "../words.js";

const byId = id => document.getElementById(id);
const WAIT_MS = 250;
const DRAFT = "typed-draft";

export class TypedScreen {
  #app;
  #instrument;
  #timer = 0;
  #turn = 0;
  #isFilled = false;

  constructor(app) {
    this.#app = app;
    this.#instrument = new InstrumentPicker(byId("typed-instrument"), () => this.#soon());
    const form = byId("typed-form");
    form.elements.keyFifths.append(...Array.from({ length: 15 }, (_, index) => element("option", { value: index - 7, text: keyWords(index - 7) })));
    form.elements.keyFifths.value = "0";
    form.addEventListener("input", () => this.#soon());
    form.addEventListener("submit", event => {
      event.preventDefault();
      this.#keep();
    });
  }

  async enter() {
    byId("typed-title").focus({ preventScroll: true });
    if (!this.#isFilled) {
      this.#isFilled = true;
      const draft = JSON.parse(sessionStorage.getItem(DRAFT) ?? "{}");
      for (const [name, value] of Object.entries(draft.fields ?? {})) {
        byId("typed-form").elements[name].value = value;
      }
      await this.#instrument.set(draft.instrumentId, draft.crookId);
    }
    this.#preview();
  }

  leave() {
    clearTimeout(this.#timer);
    byId("typed-notation").replaceChildren();
  }

  #soon() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#preview(), WAIT_MS);
  }

  #typed() {
    const form = byId("typed-form").elements;
    return {
      text: form.text.value,
      title: form.title.value,
      beats: Math.round(Number(form.beats.value)),
      beatType: Number(form.beatType.value),
      keyFifths: Number(form.keyFifths.value),
      quartersPerMinute: Number(form.quartersPerMinute.value),
      firstBar: Math.round(Number(form.firstBar.value)),
      instrumentId: this.#instrument.instrumentId,
      crookId: this.#instrument.crookId,
      isWritten: form.pitches.value === "written",
    };
  }

  /** A draft outlives a reload. */
  #remember() {
    const form = byId("typed-form").elements;
    const names = ["text", "title", "beats", "beatType", "keyFifths", "quartersPerMinute", "firstBar", "pitches"];
    const fields = Object.fromEntries(names.map(name => [name, form[name].value]));
    sessionStorage.setItem(DRAFT, JSON.stringify({ fields, instrumentId: this.#instrument.instrumentId, crookId: this.#instrument.crookId }));
  }

  async #preview() {
    const turn = ++this.#turn;
    const typed = this.#typed();
    this.#remember();
    if (!typed.text.trim()) {
      this.#tell("");
      byId("typed-keep").disabled = true;
      byId("typed-about").textContent = "So far: nothing";
      byId("typed-notation").replaceChildren();
      byId("typed-warning").hidden = true;
      return;
    }
    try {
      const reading = await postJson("/api/typed/preview", typed);
      if (turn !== this.#turn) {
        return;
      }
      this.#tell("");
      byId("typed-keep").disabled = false;
      byId("typed-about").textContent = withAccidentals(`So far: ${reading.about}`);
      byId("typed-warning").hidden = !reading.rangeWarning;
      byId("typed-warning").textContent = withAccidentals(reading.rangeWarning ?? "");
      await showNotation(byId("typed-notation"), reading.musicXml, { sizePercent: settings.noteSize, label: "The passage typed so far" });
    } catch (error) {
      if (turn === this.#turn) {
        this.#tell(error.message); // the notation stays as it was before the fault
        const about = byId("typed-about");
        about.textContent = about.textContent.replace("So far", "Before that");
        byId("typed-keep").disabled = true;
      }
    }
  }

  async #keep() {
    clearTimeout(this.#timer);
    try {
      const { id } = await postJson("/api/typed/save", this.#typed());
      byId("typed-form").reset();
      byId("typed-form").elements.keyFifths.value = "0";
      await this.#instrument.set("", "");
      sessionStorage.removeItem(DRAFT);
      this.#app.go("passage", id);
    } catch (error) {
      this.#tell(error.message);
    }
  }

  #tell(message) {
    byId("typed-problem").textContent = sentence(message);
  }
}

function keyWords(fifths) {
  const count = Math.abs(fifths);
  return fifths === 0 ? "no sharps or flats" : `${count} ${fifths > 0 ? "sharp" : "flat"}${count === 1 ? "" : "s"}`;
}
