/** One passage of the library: its notes to choose from, what is known about it, its rhythms and files. */

import { address, changeJson, getJson, getText, postJson, remove } from "../api.js";
import { showExports } from "../exports.js";
import { InstrumentPicker, loadInstruments } from "../instrument-picker.js";
import { NotePicker } from "../note-picker.js";
import { showNotation } from "../notation.js";
import { settings } from "../settings-store.js";
import { element } from "../shapes.js";
import { UndoBar } from "../undo-bar.js";
import { sentence, withAccidentals } from "../words.js";
import { practisePassage } from "./library.js";

const byId = id => document.getElementById(id);
const orNull = text => text.trim() === "" ? null : Number(text);

export class PassageScreen {
  #app;
  #id = "";
  #passage = null;
  #picker;
  #instrument;
  #undo;
  #shownId = "";
  #said = "";
  #turn = 0;

  constructor(app) {
    this.#app = app;
    this.#picker = new NotePicker(byId("pick"), byId("pick-words"), chosen => this.#choiceChanged(chosen));
    this.#instrument = new InstrumentPicker(byId("passage-instrument"));
    this.#undo = new UndoBar(document.querySelector("#screen-passage [data-undo]"), () => this.#undone(), message => this.#tell(message));
    byId("passage-practise").addEventListener("click", () => practisePassage(app, this.#id));
    byId("passage-delete").addEventListener("click", () => this.#do(async () => {
      await remove(`/api/library/${this.#id}`);
      app.go("library");
    }));
    this.#onSubmit("place-form", form => this.#choosePlaces(form));
    this.#onSubmit("excerpt-form", form => this.#keepExcerpt(form));
    this.#onSubmit("crook-form", form => this.#changeNotes({ crookId: form.crook.value, oldBassClef: form.oldBassClef.checked, keepWritten: form.keep.value === "written" }));
    this.#onSubmit("passage-form", form => this.#save(form));
    this.#onSubmit("instrument-form", form => this.#changeInstrument(form));
    for (const button of document.querySelectorAll("[data-relax]")) {
      button.addEventListener("click", () => this.#do(() => this.#changeNotes({ [button.dataset.relax]: button.dataset.value === "true" })));
    }
    byId("variant").addEventListener("change", () => this.#showVariant());
    byId("variant-scaling").addEventListener("change", () => this.#showVariant());
    let width = 0;
    new ResizeObserver(([entry]) => {
      const isOther = Math.abs(entry.contentRect.width - width) > 40;
      width = entry.contentRect.width;
      if (isOther && width > 0 && this.#passage && app.screen === "passage") {
        this.#showNotes(true);
      }
    }).observe(byId("pick"));
  }

  async enter(id) {
    this.#id = id;
    this.#tell("");
    try {
      await loadInstruments();
      this.#show(await getJson(`/api/library/${id}`));
      byId("passage-title").focus({ preventScroll: true });
    } catch (error) {
      this.#app.tell(error.message);
      this.#app.go("library");
    }
  }

  leave() {
    if (this.#said && byId("notice").textContent === this.#said) {
      this.#app.tell("");
    }
    byId("pick").replaceChildren();
    byId("variant-notation").replaceChildren();
    this.#passage = null;
    this.#shownId = "";
  }

  #onSubmit(formId, work) {
    byId(formId).addEventListener("submit", event => {
      event.preventDefault();
      this.#do(() => work(event.target.elements));
    });
  }

  #tell(message) {
    byId("passage-problem").textContent = sentence(message);
  }

  async #do(work) {
    this.#tell("");
    try {
      await work();
    } catch (error) {
      this.#tell(error.message);
    }
  }

  async #undone() {
    try {
      this.#show(await getJson(`/api/library/${this.#id}`));
    } catch {
      this.#app.go("library");
    }
  }

  #show(passage) {
    this.#passage = passage;
    byId("passage-title").textContent = passage.title;
    byId("passage-about").textContent = withAccidentals([passage.instrument ? `${passage.instrument}.` : "", passage.transposition, passage.partWords ? `${passage.partWords}.` : ""].filter(Boolean).join(" "));
    if (passage.partId) {
      byId("passage-about").append(" ", element("a", { href: `#passage=${passage.partId}`, text: "Open the part" }));
    }
    byId("passage-warning").hidden = !passage.rangeWarning;
    byId("passage-warning").textContent = withAccidentals(passage.rangeWarning ?? "");
    const form = byId("passage-form").elements;
    form.title.value = passage.title;
    form.tags.value = passage.tags.join(", ");
    form.goal.value = passage.goalQuartersPerMinute ?? "";
    form.goal.placeholder = `${Math.round(passage.quartersPerMinute)}, as written`;
    form.performanceDate.value = passage.performanceDate ?? "";
    form.cents.value = passage.strictness.cents ?? "";
    form.onsetMs.value = passage.strictness.onsetMs ?? "";
    form.tempoPercent.value = passage.strictness.tempoPercent ?? "";
    form.semitoneOnly.checked = passage.strictness.semitoneOnly;
    this.#instrument.set(passage.instrumentId, passage.crookId);
    this.#fillCrooks(passage);
    this.#fillVariants(passage);
    showExports(byId("export-whole"), passage.id);
    this.#undo.refresh().catch(error => this.#tell(error.message));
    this.#showNotes(this.#shownId === passage.id);
    this.#shownId = passage.id;
  }

  async #showNotes(keep) {
    const passage = this.#passage;
    const score = await getText(`/api/passages/${passage.id}/score`);
    await this.#picker.show(score, passage.notes, { sizePercent: settings.noteSize, label: passage.title, keep });
  }

  #choiceChanged(chosen) {
    for (const field of document.querySelectorAll("#with-notes button, #with-notes input, #with-notes select")) {
      field.disabled = !chosen;
    }
    byId("with-notes-title").textContent = chosen ? "With the chosen notes" : "Choose notes above to do something with them";
    byId("export-chosen").hidden = !chosen;
    showExports(byId("export-chosen"), chosen ? this.#id : null, chosen ?? {});
    if (!chosen || !this.#passage) {
      return;
    }
    const [first, last] = [this.#passage.notes[chosen.first], this.#passage.notes[chosen.last]];
    const form = byId("place-form").elements;
    form.fromBar.value = first.bar;
    form.fromBeat.value = beatWords(first.place);
    form.toBar.value = last.bar;
    form.toBeat.value = beatWords(last.place);
    byId("excerpt-form").elements.title.placeholder = `${this.#passage.title}, ${first.bar === last.bar ? `bar ${first.bar}` : `bars ${first.bar} to ${last.bar}`}`;
  }

  #choosePlaces(form) {
    const notes = this.#passage.notes;
    const fromBar = wholeNumber(form.fromBar.value, "The first bar");
    const toBar = form.toBar.value.trim() === "" ? fromBar : wholeNumber(form.toBar.value, "The last bar");
    const fromBeat = form.fromBeat.value.trim() === "" ? 1 : beatNumber(form.fromBeat.value);
    const toBeat = form.toBeat.value.trim() === "" ? Infinity : beatNumber(form.toBeat.value);
    const within = notes.map((note, index) => ({ note, index })).filter(({ note }) =>
      (note.bar > fromBar || (note.bar === fromBar && note.beat >= fromBeat - .01)) && (note.bar < toBar || (note.bar === toBar && note.beat <= toBeat + .01)));
    if (!within.length) {
      throw new Error(`No note begins from bar ${fromBar}, beat ${fromBeat} to bar ${toBar}${toBeat === Infinity ? "" : `, beat ${toBeat}`}. The passage goes from ${notes[0].place} to ${notes.at(-1).place}.`);
    }
    this.#picker.choose(within[0].index, within.at(-1).index);
  }

  async #keepExcerpt(form) {
    const made = await postJson(`/api/library/${this.#id}/excerpts`, { ...this.#picker.chosen, title: form.title.value });
    form.title.value = "";
    this.#said = `“${made.title}” is in the library.`;
    this.#app.tell(this.#said);
    this.#app.go("passage", made.id);
  }

  async #changeNotes(change) {
    this.#show(await postJson(`/api/library/${this.#id}/notes`, { ...this.#picker.chosen, oldBassClef: false, keepWritten: false, ...change }));
  }

  async #save(form) {
    this.#show(await changeJson(`/api/library/${this.#id}`, {
      title: form.title.value,
      tags: form.tags.value.split(","),
      goalQuartersPerMinute: orNull(form.goal.value),
      performanceDate: form.performanceDate.value || null,
      strictness: { cents: orNull(form.cents.value), semitoneOnly: form.semitoneOnly.checked, onsetMs: orNull(form.onsetMs.value), tempoPercent: orNull(form.tempoPercent.value) },
    }));
  }

  async #changeInstrument(form) {
    this.#show(await postJson(`/api/library/${this.#id}/instrument`, {
      instrumentId: this.#instrument.instrumentId, crookId: this.#instrument.crookId, keepWritten: form.keep.value === "written",
    }));
  }

  async #fillCrooks(passage) {
    const crooks = (await loadInstruments()).find(one => one.id === passage.instrumentId)?.crooks;
    byId("crook-form").hidden = !crooks;
    const select = byId("crook-form").elements.crook;
    select.replaceChildren(...(crooks ?? []).map(crook => element("option", { value: crook.id, text: crook.name })));
    select.value = passage.crookId ?? "f";
  }

  #fillVariants(passage) {
    const select = byId("variant");
    const before = select.value;
    select.replaceChildren(...passage.variants.map(variant => element("option", { value: variant.id, text: variant.name })));
    if (passage.variants.some(variant => variant.id === before)) {
      select.value = before;
    }
    const none = !passage.variants.length;
    byId("variant-none").hidden = !none;
    for (const place of ["variant-notation", "export-variant"]) {
      byId(place).hidden = none;
    }
    if (!none) {
      this.#showVariant();
    }
  }

  async #showVariant() {
    const turn = ++this.#turn;
    const which = { variant: byId("variant").value, scaling: byId("variant-scaling").value };
    showExports(byId("export-variant"), this.#id, which);
    await this.#do(async () => {
      const score = await getText(address(`/api/passages/${this.#id}/score`, which));
      if (turn === this.#turn) {
        await showNotation(byId("variant-notation"), score, { sizePercent: settings.noteSize * .7, label: byId("variant").selectedOptions[0]?.textContent });
      }
    });
  }
}

/** "bar 3, beat 2+1/2" becomes "2+1/2". */
const beatWords = place => place.split("beat ")[1];

function wholeNumber(text, what) {
  if (!/^\s*\d+\s*$/.test(text)) {
    throw new Error(`${what} is '${text}'; give a bar number of the part.`);
  }
  return Number(text);
}

/** A beat as players write it: 2, 2.5, 2+1/2, 2 1/2. */
function beatNumber(text) {
  const [, whole, numerator, denominator] = /^\s*(\d+(?:[.,]\d+)?)(?:\s*[+ ]\s*(\d+)\s*\/\s*([1-9]\d*))?\s*$/.exec(text) ?? [];
  if (whole === undefined) {
    throw new Error(`The beat is '${text}'; write it like 2, 2.5 or 2+1/2.`);
  }
  return Number(whole.replace(",", ".")) + (numerator ? Number(numerator) / Number(denominator) : 0);
}
