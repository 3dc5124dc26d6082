/** Import: which line of a file, for which instrument, and how it will look. Nothing is kept before it is added. */

import { address, postFile } from "../api.js";
import { sizeProblem } from "../file-drop.js";
import { InstrumentPicker } from "../instrument-picker.js";
import { showNotation } from "../notation.js";
import { settings } from "../settings-store.js";
import { element } from "../shapes.js";
import { sentence, withAccidentals } from "../words.js";

const byId = id => document.getElementById(id);
const HORN = "horn-f";
const PITCHES = { file: "as the file says", sounding: "as they sound", written: "as written for this instrument" };

export class ImportScreen {
  #app;
  #instrument;
  #files = [];
  #contents = null;
  #instrumentTouched = false;
  #turn = 0;

  constructor(app) {
    this.#app = app;
    this.#instrument = new InstrumentPicker(byId("import-instrument"), () => {
      this.#instrumentTouched = true;
      this.#preview();
    });
    const form = byId("import-form");
    form.addEventListener("submit", event => {
      event.preventDefault();
      this.#keep();
    });
    form.addEventListener("change", event => {
      if (event.target.name === "line") {
        this.#lineChanged();
      } else if (["pitches", "repeats", "graces"].includes(event.target.name)) {
        this.#preview();
      }
    });
    byId("import-skip").addEventListener("click", () => this.#next());
  }

  /** Takes files that were dropped or chosen. */
  take(files) {
    this.#files = files;
    if (this.#app.screen === "import") {
      this.#open();
    } else {
      this.#app.go("import");
    }
  }

  enter() {
    byId("import-title").focus({ preventScroll: true });
    this.#open();
  }

  leave() {
    byId("import-notation").replaceChildren();
  }

  async #open() {
    const file = this.#files[0];
    const form = byId("import-form");
    form.hidden = true;
    form.reset();
    this.#contents = null;
    this.#tell("");
    await this.#instrument.set("", "");
    if (!file) {
      byId("import-file").textContent = "No file is chosen yet: drop a MIDI, MusicXML or ABC file on this page.";
      return;
    }
    byId("import-file").textContent = `${file.name}${this.#files.length > 1 ? `, and ${this.#files.length - 1} more after it` : ""}`;
    try {
      const problem = sizeProblem(file);
      if (problem) {
        throw new Error(problem);
      }
      this.#contents = await postFile("/api/import/contents", file);
    } catch (error) {
      this.#tell(`${file.name}: ${error.message}`);
      return;
    }
    if (file !== this.#files[0]) {
      return; // another file came meanwhile
    }
    this.#showContents(file);
    form.hidden = false;
    await this.#lineChanged();
  }

  /** What the line is called may name a horn's crook, where the file has no other way to say it; it may also leave open which. */
  async #lineChanged() {
    this.#instrumentTouched = false;
    const crooks = this.#contents.pitches === "file" ? [] : this.#line().crooks;
    if (crooks.length === 1) {
      await this.#instrument.set(HORN, crooks[0].id);
      this.#instrumentTouched = true;
    } else if (crooks.length > 1) {
      await this.#instrument.ask(HORN, crooks);
      this.#instrumentTouched = true;
    }
    await this.#preview();
  }

  #line() {
    return this.#contents.lines[Number(document.querySelector("#import-lines input:checked")?.value ?? 0)];
  }

  #showContents(file) {
    const contents = this.#contents;
    byId("import-file").textContent += `, ${contents.format}`;
    const first = Math.max(0, contents.lines.findIndex(line => !line.problem));
    byId("import-lines").replaceChildren(...contents.lines.map((line, index) => {
      const input = element("input", { type: "radio", name: "line", value: index });
      input.checked = index === first;
      return element("label", { className: "option" }, input, element("span", { text: line.name }), element("small", { text: withAccidentals(line.about) }));
    }));
    const pitches = byId("import-form").elements.pitches;
    const offered = contents.pitches === "file" ? ["file", "written"] : ["sounding", "written"];
    pitches.replaceChildren(...offered.map(id => element("option", { value: id, text: PITCHES[id] })));
    pitches.value = contents.pitches;
    byId("import-repeats").hidden = !contents.hasRepeats;
    byId("import-graces").hidden = !contents.hasRepeats;
    this.#instrumentTouched = false;
    byId("import-form").elements.title.placeholder = file.name.replace(/\.[^.]*$/, "");
  }

  #query(withTitle) {
    const form = byId("import-form").elements;
    return {
      name: this.#files[0].name,
      line: document.querySelector("#import-lines input:checked")?.value,
      title: withTitle ? form.title.value : null,
      instrument: this.#instrumentTouched ? this.#instrument.instrumentId : null,
      crook: this.#instrumentTouched ? this.#instrument.crookId : null,
      pitches: form.pitches.value,
      repeats: form.repeats.value,
      graces: form.graces.value,
      tags: withTitle ? form.tags.value : null,
    };
  }

  async #preview() {
    const turn = ++this.#turn;
    let reading;
    try {
      if (this.#instrumentTouched && this.#instrument.instrumentId === HORN && !this.#instrument.crookId) {
        throw new Error(`The file calls it “${this.#line().name}”. Choose ${this.#line().crooks.map(crook => crook.name).join(" or ")} as its heading: they sound an octave apart.`);
      }
      reading = await postFile(address("/api/import/preview", this.#query(false)), this.#files[0]);
    } catch (error) {
      if (turn === this.#turn) {
        this.#tell(error.message);
        byId("import-keep").disabled = true;
        byId("import-about").textContent = "This cannot be read";
        for (const place of ["import-notation", "import-remarks"]) {
          byId(place).replaceChildren();
        }
        byId("import-warning").hidden = true;
        byId("import-notation").hidden = true;
      }
      return;
    }
    if (turn !== this.#turn) {
      return;
    }
    this.#tell("");
    byId("import-keep").disabled = false;
    byId("import-notation").hidden = false;
    if (!this.#instrumentTouched) {
      await this.#instrument.set(reading.instrumentId, reading.crookId);
    }
    byId("import-form").elements.title.placeholder = reading.title;
    byId("import-about").textContent = withAccidentals(reading.about);
    byId("import-warning").hidden = !reading.rangeWarning;
    byId("import-warning").textContent = withAccidentals(reading.rangeWarning ?? "");
    byId("import-remarks").replaceChildren(...reading.remarks.map(remark => element("li", { text: sentence(remark) })));
    await showNotation(byId("import-notation"), reading.musicXml, { sizePercent: settings.noteSize * .8, label: reading.title });
  }

  async #keep() {
    try {
      const { id } = await postFile(address("/api/import/save", this.#query(true)), this.#files[0]);
      if (this.#files.length > 1) {
        this.#next();
      } else {
        this.#files = [];
        this.#app.go("passage", id);
      }
    } catch (error) {
      this.#tell(error.message);
    }
  }

  #next() {
    this.#files = this.#files.slice(1);
    if (this.#files.length) {
      this.#open();
    } else {
      this.#app.go("library");
    }
  }

  #tell(message) {
    byId("import-problem").textContent = sentence(message);
  }
}
