/** The first screen: what is practised, by which drill, how strictly. Everything is chosen already; one press starts. */

import { getJson, postJson } from "../api.js";
import { RhythmPreview } from "../rhythm-preview.js";
import { element } from "../shapes.js";
import { numberFields } from "../number-fields.js";
import { changeSettings, settings } from "../settings-store.js";

const byId = id => document.getElementById(id);

export class SetupScreen {
  #app;
  #choices = null;
  #levels = [];
  #drillNumbers = {};
  #strictnessNumbers = {};
  #rhythms = new RhythmPreview();

  constructor(app) {
    this.#app = app;
    byId("setup-form").addEventListener("submit", event => {
      event.preventDefault();
      this.#start("microphone");
    });
    byId("start-demo").addEventListener("click", () => this.#start("recording"));
    byId("caution-seen").addEventListener("click", async () => {
      // Once it is gone, it was kept that it was seen: it does not come back.
      await changeSettings({ cautionSeen: true }).catch(error => this.#app.tell(error.message));
      byId("caution-first").hidden = true;
      byId("start").focus();
    });
  }

  async enter() {
    byId("caution-first").hidden = settings.cautionSeen;
    try {
      this.#choices = await getJson("/api/choices");
    } catch (error) {
      byId("setup-problem").textContent = error.message;
      return;
    }
    this.#drillNumbers = settings.lastSetup?.drillNumbers ?? {};
    this.#strictnessNumbers = settings.lastSetup?.strictnessNumbers ?? {};
    const last = settings.lastSetup ?? {};
    this.#fill("passage", this.#choices.passages, last.passageId, passage => [passage.instrument, `${passage.notes} notes`, `${passage.bars} bars`, `♩ = ${Math.round(passage.quartersPerMinute)}`].filter(Boolean).join(", "));
    this.#fill("drill", this.#choices.drills, last.drillKind, drill => drill.about);
    this.#drillChanged();
    this.#offerToGoOn();
    await this.#passageChanged(last.strictnessId);
  }

  leave() {
    byId("preview").replaceChildren();
  }

  #fill(name, options, chosenId, about) {
    const list = byId(`${name}-list`);
    const chosen = options.find(option => option.id === chosenId) ?? options.find(option => option.usual) ?? options[0];
    list.replaceChildren(...options.map(option => {
      const input = element("input", { type: "radio", name, value: option.id });
      input.checked = option === chosen;
      input.addEventListener("change", () => this.#changed(name));
      return element("label", { className: "option" }, input, element("span", { text: option.name }), element("small", { text: about(option) }));
    }));
  }

  #changed(name) {
    if (name === "passage") {
      this.#passageChanged(this.#chosen("strictness", this.#levels)?.id);
      return;
    }
    if (name === "drill") {
      this.#drillNumbers = {};
      this.#drillChanged();
    } else {
      this.#strictnessNumbers = {};
    }
    this.#strictnessChanged();
  }

  #chosen(name, options) {
    const id = document.querySelector(`#${name}-list input:checked`)?.value;
    return options.find(option => option.id === id);
  }

  /** The time limits of a level depend on the shortest note of the passage. */
  async #passageChanged(strictnessId) {
    const passage = this.#chosen("passage", this.#choices.passages);
    byId("start-demo").hidden = !passage?.demoRecording;
    if (!passage) {
      return;
    }
    this.#levels = await getJson(`/api/passages/${passage.id}/strictness`);
    this.#fill("strictness", this.#levels, strictnessId, level => level.about);
    this.#strictnessChanged();
    byId("preview-title").textContent = passage.transposition === 0 ? `${passage.name}` : `${passage.name}, as written for ${passage.instrument}`;
    await this.#rhythms.passageChanged(passage.id, passage.name);
  }

  #drillChanged() {
    const drill = this.#chosen("drill", this.#choices.drills);
    this.#showNumbers("drill-numbers", drill.numbers, this.#drillNumbers);
    this.#rhythms.drillChanged(drill.id, this.#drillNumbers);
  }

  #strictnessChanged() {
    const level = this.#chosen("strictness", this.#levels);
    const drill = this.#chosen("drill", this.#choices.drills);
    const numbers = level.numbers.map(number => number.id === "timing" ? { ...number, value: drill.usualTiming } : number);
    this.#showNumbers("strictness-numbers", numbers, this.#strictnessNumbers);
  }

  #showNumbers(placeId, numbers, changed) {
    byId(placeId).replaceChildren(...numberFields(numbers, changed, (id, value) => this.#rhythms.numberChanged(id, value)));
  }

  #setup() {
    return {
      passageId: this.#chosen("passage", this.#choices.passages)?.id,
      drillKind: this.#chosen("drill", this.#choices.drills)?.id,
      strictnessId: this.#chosen("strictness", this.#levels)?.id,
      drillNumbers: this.#drillNumbers,
      strictnessNumbers: this.#strictnessNumbers,
    };
  }

  /** The recording plays the whole passage, some attempts with faults: a drill that shows what the program does with them. */
  #demoSetup() {
    return { ...this.#setup(), drillKind: "proof", drillNumbers: { sets: 3, cleanInARow: 1 }, strictnessId: "advanced", strictnessNumbers: { cents: 30, onsetMs: 70 } };
  }

  async #start(source) {
    const problem = byId("setup-problem");
    problem.textContent = "";
    if (!byId("setup-form").reportValidity()) {
      return;
    }
    const setup = source === "recording" ? this.#demoSetup() : this.#setup();
    try {
      // The microphone first: where it is refused, no session has begun.
      if (source === "microphone") {
        await this.#app.sound.openMicrophone(settings.deviceId);
      }
      this.#app.view = await postJson("/api/session", setup);
      if (source === "recording") {
        const passage = this.#chosen("passage", this.#choices.passages);
        await this.#app.sound.openRecording(passage.demoRecording);
      }
    } catch (error) {
      this.#app.sound.close();
      problem.textContent = error.message;
      return;
    }
    sessionStorage.setItem("listening", source);
    changeSettings({ cautionSeen: true, lastSetup: this.#setup() }).catch(error => this.#app.tell(error.message));
    this.#app.tell(this.#app.sound.warnings.join(" "));
    this.#app.go("play");
  }

  #offerToGoOn() {
    const view = this.#app.view;
    byId("go-on")?.remove();
    if (!view || view.drill.phase === "done") {
      return;
    }
    const button = element("button", { type: "button", id: "go-on", text: `Go on: ${view.drill.name}, ${view.passage.title}` });
    button.addEventListener("click", async () => {
      try {
        await this.#app.sound.openMicrophone(settings.deviceId);
        sessionStorage.setItem("listening", "microphone");
        this.#app.tell(this.#app.sound.warnings.join(" "));
        this.#app.go("play");
      } catch (error) {
        byId("setup-problem").textContent = error.message;
      }
    });
    byId("start").after(button);
  }
}
