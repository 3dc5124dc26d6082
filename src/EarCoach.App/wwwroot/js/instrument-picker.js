/** Chooses an instrument by a few letters of its name, and for a horn the crook of its part. */

import { getJson } from "./api.js";
import { element } from "./shapes.js";
import { withAccidentals } from "./words.js";

let instruments = null;

export async function loadInstruments() {
  instruments ??= await getJson("/api/instruments");
  return instruments;
}

const plain = words => words.toLowerCase().replaceAll("♭", "b").replace(/\s+flat\b/g, "b").replace(/[^a-z0-9]+/g, " ").trim();

export class InstrumentPicker {
  #onChange;
  #search = element("input", { type: "search", autocomplete: "off" });
  #list = element("select", { size: "5", "aria-label": "Instrument" });
  #about = element("p", { className: "hint" });
  #crook = element("select");
  #crookLabel = element("label", { text: "The part is headed" });

  constructor(place, onChange = () => {}) {
    this.#onChange = onChange;
    this.#crookLabel.append(this.#crook);
    const searchLabel = element("label", { text: "Find an instrument" });
    searchLabel.append(this.#search);
    place.replaceChildren(searchLabel, this.#list, this.#about, this.#crookLabel);
    this.#search.addEventListener("input", () => this.#fill(this.#list.value, true));
    this.#search.addEventListener("keydown", event => {
      if (event.key === "Enter") {
        event.preventDefault(); // the form is not sent by a search
      }
    });
    this.#list.addEventListener("change", () => this.#changed());
    this.#crook.addEventListener("change", () => this.#onChange());
  }

  get instrumentId() { return this.#list.value; }
  get crookId() { return this.#crookLabel.hidden ? "" : this.#crook.value; }

  async set(instrumentId, crookId) {
    await loadInstruments();
    this.#search.value = "";
    this.#fill(instrumentId ?? "", false);
    this.#showAbout(crookId ?? "");
  }

  /** The horn, where the part does not say which of several crooks: none is chosen until the player has. */
  async ask(instrumentId, crooks) {
    await this.set(instrumentId, "");
    this.#crook.replaceChildren(element("option", { value: "", text: "please choose" }), ...crooks.map(crook => element("option", { value: crook.id, text: crook.name })));
    this.#crook.value = "";
  }

  #fill(chosen, isSearch) {
    const wanted = plain(this.#search.value).split(" ");
    const found = instruments.filter(one => wanted.every(word => plain(`${one.name} ${one.words}`).includes(word)));
    const options = found.map(one => element("option", { value: one.id, text: one.name }));
    this.#list.replaceChildren(...(this.#search.value ? [] : [element("option", { value: "", text: "Not known: shown as it sounds" })]), ...options);
    this.#list.value = chosen;
    if (this.#list.selectedIndex < 0 && this.#list.options.length) {
      this.#list.selectedIndex = 0;
    }
    if (isSearch && this.#list.value !== chosen) {
      this.#changed();
    } else if (!found.length) {
      this.#about.textContent = "No instrument of that name. Try fewer letters.";
    }
    this.#list.options[this.#list.selectedIndex]?.scrollIntoView({ block: "nearest" });
  }

  #changed() {
    this.#showAbout("");
    this.#onChange();
  }

  #showAbout(crookId) {
    const chosen = instruments.find(one => one.id === this.#list.value);
    this.#about.textContent = withAccidentals(chosen?.about ?? "");
    this.#crookLabel.hidden = !chosen?.crooks;
    this.#crook.replaceChildren(...(chosen?.crooks ?? []).map(crook => element("option", { value: crook.id, text: crook.name })));
    this.#crook.value = crookId || "f";
  }
}
