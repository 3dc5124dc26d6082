/** The library: every passage, found by title, tag or instrument. */

import { address, getJson, remove } from "../api.js";
import { changeSettings, settings } from "../settings-store.js";
import { element } from "../shapes.js";
import { UndoBar } from "../undo-bar.js";
import { sentence } from "../words.js";

const byId = id => document.getElementById(id);

export class LibraryScreen {
  #app;
  #undo;
  #turn = 0;

  constructor(app) {
    this.#app = app;
    this.#undo = new UndoBar(document.querySelector("#screen-library [data-undo]"), () => this.#show(), message => app.tell(message));
    byId("library-search").addEventListener("input", () => this.#show());
    byId("library-order").addEventListener("change", () => this.#show());
  }

  enter() {
    this.#show();
  }

  async #show() {
    const turn = ++this.#turn;
    try {
      const library = await getJson(address("/api/library", { search: byId("library-search").value }));
      if (turn !== this.#turn) {
        return; // something newer was typed meanwhile
      }
      this.#undo.show(library.undo);
      byId("library-count").textContent = countWords(library);
      byId("library-list").replaceChildren(...inOrder(library.passages, byId("library-order").value).map(passage => this.#row(passage)));
    } catch (error) {
      this.#app.tell(error.message);
    }
  }

  #row(passage) {
    const practise = element("button", { type: "button", className: "primary", text: "Practise", "aria-label": `Practise ${passage.title}` });
    practise.addEventListener("click", () => practisePassage(this.#app, passage.id));
    const erase = element("button", { type: "button", text: "Delete", "aria-label": `Delete ${passage.title}` });
    erase.addEventListener("click", () => this.#delete(passage));
    const tempo = `${passage.hasGoal ? "goal " : ""}♩ = ${Math.round(passage.quartersPerMinute)}`;
    return element("li", { "data-id": passage.id },
      element("div", { className: "library-words" },
        element("a", { className: "library-link", href: `#passage=${passage.id}`, text: passage.title }),
        element("p", { text: sentence([passage.instrument, passage.bars, `${passage.notes} ${passage.notes === 1 ? "note" : "notes"}`, tempo].filter(Boolean).join(", ")) }),
        ...(passage.performanceDate ? [element("p", { className: "library-date", text: performanceWords(passage) })] : []),
        ...(passage.partTitle ? [element("p", { className: "hint", text: `Cut from ${passage.partTitle}` })] : []),
        ...(passage.tags.length ? [element("p", { className: "tags" }, ...passage.tags.map(tag => this.#tag(tag)))] : [])),
      element("div", { className: "library-buttons" },
        practise,
        element("a", { className: "button", href: `#passage=${passage.id}`, text: "Open", "aria-label": `Open ${passage.title}` }),
        erase));
  }

  /** Pressed, a tag is searched for. */
  #tag(tag) {
    const button = element("button", { type: "button", className: "tag", text: tag, "aria-label": `Search for ${tag}` });
    button.addEventListener("click", () => {
      byId("library-search").value = tag;
      this.#show();
    });
    return button;
  }

  async #delete(passage) {
    try {
      await remove(`/api/library/${passage.id}`);
      await this.#show();
      document.querySelector("#screen-library [data-undo] button").focus();
    } catch (error) {
      this.#app.tell(error.message);
    }
  }
}

/** Takes a passage to the first screen, chosen already. */
export async function practisePassage(app, passageId) {
  await changeSettings({ lastSetup: { ...settings.lastSetup, passageId } });
  app.go("setup");
}

/** By title they come; those without a date of performance stand last. */
function inOrder(passages, order) {
  if (order === "performance") {
    return [...passages].sort((a, b) => (a.daysLeft ?? Infinity) - (b.daysLeft ?? Infinity) || 0);
  }
  return order === "newest" ? [...passages].sort((a, b) => Date.parse(b.addedAt) - Date.parse(a.addedAt)) : passages;
}

function countWords({ passages, total }) {
  const all = `${total} ${total === 1 ? "passage" : "passages"}`;
  return passages.length === total ? `${all}.` : passages.length ? `${passages.length} of ${all} found.` : `None of ${all} found. Try fewer letters.`;
}

function performanceWords({ performanceDate, daysLeft }) {
  const day = new Date(`${performanceDate}T12:00:00`).toLocaleDateString(undefined, { day: "numeric", month: "long", year: "numeric" });
  const left = daysLeft > 1 ? `in ${daysLeft} days` : daysLeft === 1 ? "tomorrow" : daysLeft === 0 ? "today" : "over";
  return `Performance on ${day}, ${left}`;
}
