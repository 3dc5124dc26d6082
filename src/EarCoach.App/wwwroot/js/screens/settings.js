/** Settings: look, cues, beat, keys and pedals, microphone. Each change is kept at once. */

import { cueLengthMs, playCue } from "../cues.js";
import { COMMANDS, DEFAULT_KEYS, keyName, nextKey } from "../keys.js";
import { changeSettings, settings } from "../settings-store.js";
import { element } from "../shapes.js";

const byId = id => document.getElementById(id);

export class SettingsScreen {
  #app;

  constructor(app) {
    this.#app = app;
    const form = byId("settings-form");
    form.addEventListener("submit", event => event.preventDefault());
    form.addEventListener("change", event => this.#changed(event.target));
    for (const button of document.querySelectorAll("[data-try-cue]")) {
      button.addEventListener("click", () => this.#tryCue(button.dataset.tryCue));
    }
  }

  enter() {
    const form = byId("settings-form");
    for (const name of ["theme", "distance", "noteSize", "cues", "beat", "keepMegabytes"]) {
      form.elements[name].value = settings[name];
    }
    form.elements.stillness.checked = settings.stillness;
    this.#showBindings();
    this.#showDevices();
  }

  async #changed(field) {
    if (!field.name || !field.checkValidity()) {
      return;
    }
    const value = field.type === "checkbox" ? field.checked : field.type === "number" ? Number(field.value) : field.value;
    try {
      await changeSettings({ [field.name]: value });
    } catch (error) {
      this.#app.tell(error.message);
    }
  }

  async #tryCue(name) {
    const context = new AudioContext();
    await context.resume();
    playCue(context, name, settings.cues === "off" ? "soft" : settings.cues);
    setTimeout(() => context.close(), cueLengthMs(name) + 300);
  }

  #showBindings() {
    byId("bindings").replaceChildren(...Object.entries(COMMANDS).flatMap(([command, about]) => {
      const bound = element("span", { className: "bound", text: settings.keys[command].map(keyName).join(", ") || "none" });
      const learn = element("button", { type: "button", text: "Press to bind", "aria-label": `Press to bind: ${about}` });
      learn.addEventListener("click", () => this.#learn(command, about));
      return [element("span", { text: about }), bound, learn];
    }), this.#resetButton());
  }

  #resetButton() {
    const reset = element("button", { type: "button", text: "Usual keys" });
    reset.addEventListener("click", async () => {
      await changeSettings({ keys: structuredClone(DEFAULT_KEYS) });
      this.#showBindings();
      byId("binding-words").textContent = "The usual keys are back.";
    });
    return reset;
  }

  async #learn(command, about) {
    const words = byId("binding-words");
    words.textContent = `${about}: press the key or pedal now. Escape leaves it as it was.`;
    const code = await nextKey();
    if (!code) {
      words.textContent = "Nothing was changed.";
      return;
    }
    // A key does one thing: binding it here takes it from any other command.
    const keys = Object.fromEntries(Object.entries(settings.keys).map(([name, codes]) => [name, codes.filter(other => other !== code)]));
    keys[command] = [code, ...keys[command].slice(0, 1)];
    await changeSettings({ keys });
    this.#showBindings();
    words.textContent = `${keyName(code)} is bound: ${about.toLowerCase()}.`;
  }

  async #showDevices() {
    const devices = (await navigator.mediaDevices?.enumerateDevices?.() ?? []).filter(device => device.kind === "audioinput" && device.deviceId && device.deviceId !== "default");
    const list = byId("device-list");
    list.replaceChildren(list.options[0], ...devices.map(device => element("option", { value: device.deviceId, text: device.label || "A microphone (named once it was allowed)" })));
    list.value = settings.deviceId;
    if (list.selectedIndex < 0) {
      list.selectedIndex = 0;
    }
  }
}
