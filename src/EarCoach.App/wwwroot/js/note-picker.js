/** Chooses notes on engraved notation, by mouse or by keys alone. */

import { partsOfNote, showNotation } from "./notation.js";
import { withAccidentals } from "./words.js";

const SVG = "http://www.w3.org/2000/svg";
const UNIT = 90; // half a staff space in the engraver's units
const NEAR = 70; // how far from a note, in pixels, a click still means it

export class NotePicker {
  #place;
  #words;
  #onChange;
  #notes = [];
  #svg = null;
  #cursor = 0;
  #start = null;
  #chosen = null;

  constructor(place, words, onChange) {
    this.#place = place;
    this.#words = words;
    this.#onChange = onChange;
    place.addEventListener("keydown", event => this.#key(event));
    place.addEventListener("click", event => this.#click(event));
    place.addEventListener("focus", () => this.#draw());
  }

  /** The chosen notes: { first, last }, both included; null where none are. */
  get chosen() { return this.#chosen; }

  async show(musicXml, notes, { sizePercent, label, keep = false }) {
    this.#notes = notes;
    if (!keep || (this.#chosen && this.#chosen.last >= notes.length)) {
      this.#cursor = 0;
      this.#start = null;
      this.#chosen = null;
    }
    const svg = await showNotation(this.#place, musicXml, { sizePercent, label });
    if (svg) {
      this.#svg = svg;
      this.#draw();
      this.#onChange(this.#chosen);
    }
  }

  choose(first, last) {
    this.#chosen = { first: Math.min(first, last), last: Math.max(first, last) };
    this.#start = null;
    this.#cursor = last;
    this.#tell();
  }

  #key(event) {
    if (!this.#notes.length || event.ctrlKey || event.altKey || event.metaKey) {
      return;
    }
    const move = {
      ArrowRight: () => this.#cursor + 1,
      ArrowLeft: () => this.#cursor - 1,
      ArrowDown: () => this.#cursor + 1,
      ArrowUp: () => this.#cursor - 1,
      Home: () => 0,
      End: () => this.#notes.length - 1,
      PageDown: () => this.#barAfter(this.#cursor),
      PageUp: () => this.#barBefore(this.#cursor),
    }[event.key];
    if (move) {
      event.preventDefault();
      const from = this.#cursor;
      this.#cursor = Math.max(0, Math.min(this.#notes.length - 1, move()));
      if (event.shiftKey) {
        this.#start ??= this.#chosen ? (this.#chosen.first === from ? this.#chosen.last : this.#chosen.first) : from;
        this.#chosen = { first: Math.min(this.#start, this.#cursor), last: Math.max(this.#start, this.#cursor) };
      } else if (this.#chosen) {
        this.#start = null;
      }
      this.#tell();
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      this.#set(this.#cursor);
    } else if (event.key === "Escape" && (this.#chosen || this.#start !== null)) {
      event.preventDefault();
      this.#start = null;
      this.#chosen = null;
      this.#tell();
    }
  }

  #barAfter(index) {
    const next = this.#notes.findIndex((note, i) => i > index && note.bar > this.#notes[index].bar);
    return next < 0 ? this.#notes.length - 1 : next;
  }

  #barBefore(index) {
    const bar = index > 0 ? this.#notes[index - 1].bar : this.#notes[0].bar;
    return this.#notes.findIndex(note => note.bar === bar);
  }

  /** The first press sets the start, the second the end; a third begins anew. */
  #set(index) {
    if (this.#start === null || this.#chosen) {
      this.#start = index;
      this.#chosen = null;
    } else {
      this.#chosen = { first: Math.min(this.#start, index), last: Math.max(this.#start, index) };
      this.#start = null;
    }
    this.#cursor = index;
    this.#tell();
  }

  #click(event) {
    let best = -1;
    let least = NEAR;
    for (let index = 0; index < this.#notes.length && this.#svg; index++) {
      for (const part of partsOfNote(this.#svg, index)) {
        const box = (part.querySelector(".notehead") ?? part).getBoundingClientRect();
        const distance = Math.hypot(event.clientX - (box.left + box.width / 2), event.clientY - (box.top + box.height / 2));
        if (distance < least) {
          least = distance;
          best = index;
        }
      }
    }
    if (best >= 0) {
      this.#set(best);
    }
  }

  #tell() {
    const name = index => `${withAccidentals(this.#notes[index].written)}, ${this.#notes[index].place}`;
    const marks = index => stateWords(this.#notes[index]).map(words => `, ${words}`).join("");
    const here = `Note ${this.#cursor + 1} of ${this.#notes.length}: ${name(this.#cursor)}${marks(this.#cursor)}.`;
    const { first, last } = this.#chosen ?? {};
    this.#words.textContent = this.#chosen
      ? first === last ? `Chosen: ${name(first)}${marks(first)}.` : `Chosen: ${last - first + 1} notes, ${name(first)} to ${name(last)}.`
      : this.#start !== null ? `From ${name(this.#start)}. Now the last note. ${this.#cursor === this.#start ? "" : here}` : here;
    this.#draw();
    this.#onChange(this.#chosen);
  }

  #draw() {
    const margin = this.#svg?.querySelector(".page-margin");
    if (!margin) {
      return;
    }
    margin.querySelectorAll(":scope > .pick-marks").forEach(old => old.remove());
    const behind = make("g", { class: "marks pick-marks" });
    margin.prepend(behind);
    const above = make("g", { class: "marks pick-marks" }, margin);
    if (this.#chosen) {
      this.#band(behind, this.#chosen.first, this.#chosen.last);
    } else if (this.#start !== null) {
      this.#band(behind, this.#start, this.#start);
    }
    this.#notes.forEach((note, index) => this.#relaxed(above, note, index));
    if (document.activeElement === this.#place || this.#start !== null || this.#chosen) {
      const head = partsOfNote(this.#svg, this.#cursor)[0]?.getBBox();
      if (head) {
        const box = make("rect", { class: "pick-cursor", x: head.x - 1.5 * UNIT, y: head.y - 1.5 * UNIT, width: head.width + 3 * UNIT, height: head.height + 3 * UNIT, rx: UNIT }, above);
        box.scrollIntoView({ block: "nearest", inline: "nearest" });
      }
    }
  }

  /** A band behind the chosen notes, one for each line of music. */
  #band(layer, first, last) {
    const systems = new Map();
    for (let index = first; index <= last; index++) {
      for (const part of partsOfNote(this.#svg, index)) {
        const system = part.closest(".system");
        systems.set(system, [...(systems.get(system) ?? []), part.getBBox()]);
      }
    }
    for (const [system, boxes] of systems) {
      const staff = [...system.querySelectorAll(".staff > path")].map(line => line.getBBox());
      const left = Math.min(...boxes.map(box => box.x)) - UNIT;
      const right = Math.max(...boxes.map(box => box.x + box.width)) + UNIT;
      const top = Math.min(...boxes.map(box => box.y), ...staff.map(box => box.y)) - 2 * UNIT;
      const low = Math.max(...boxes.map(box => box.y + box.height), ...staff.map(box => box.y + box.height)) + 2 * UNIT;
      make("rect", { class: "pick-band", x: left, y: top, width: right - left, height: low - top, rx: UNIT }, layer);
    }
  }

  /** A wavy line above a note whose time is free; brackets around one that may be left out. */
  #relaxed(layer, note, index) {
    if (note.isGrace || (note.timingJudged && note.required)) {
      return; // a grace note says by its looks that it may be left out
    }
    const part = partsOfNote(this.#svg, index)[0];
    const head = (part?.querySelector(".notehead") ?? part)?.getBBox();
    if (!head) {
      return;
    }
    if (!note.timingJudged) {
      const staff = [...part.closest(".system").querySelectorAll(".staff > path")].map(line => line.getBBox().y);
      const y = Math.min(part.getBBox().y, ...staff) - 2.4 * UNIT;
      const x = head.x + head.width / 2;
      make("path", { class: "relax-time", d: `M${x - 2.4 * UNIT} ${y}q${.6 * UNIT} ${-1.2 * UNIT} ${1.2 * UNIT} 0t${1.2 * UNIT} 0t${1.2 * UNIT} 0t${1.2 * UNIT} 0` }, layer);
    }
    if (!note.required) {
      const top = head.y - .5 * UNIT;
      const low = head.y + head.height + .5 * UNIT;
      const bow = .9 * UNIT;
      make("path", { class: "relax-note", d: `M${head.x - .4 * UNIT} ${top}q${-bow} ${(low - top) / 2} 0 ${low - top}M${head.x + head.width + .4 * UNIT} ${top}q${bow} ${(low - top) / 2} 0 ${low - top}` }, layer);
    }
  }
}

/** What is unusual about how a note is judged. */
const stateWords = note => [
  note.isGrace ? "a grace note" : "",
  note.required ? (note.isGrace ? "must be played" : "") : "may be left out",
  note.timingJudged || note.isGrace ? "" : "time is free",
].filter(Boolean);

function make(name, attributes, parent) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) {
    made.setAttribute(key, value);
  }
  parent?.append(made);
  return made;
}
