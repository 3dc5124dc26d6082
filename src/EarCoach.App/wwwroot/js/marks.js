/** Our own marks on the notation: which notes are the task, and what was wrong on which note. */

import { fitInto, partsOfNote } from "./notation.js";

const SVG = "http://www.w3.org/2000/svg";
const UNIT = 90; // half a staff space in the engraver's units

function make(name, attributes, parent) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) {
    element.setAttribute(key, value);
  }
  parent.append(element);
  return element;
}

function layer(svg, name) {
  const margin = svg.querySelector(".page-margin");
  let group = margin.querySelector(`:scope > .${name}`);
  group?.remove();
  group = make("g", { class: `marks ${name}` }, margin);
  return group;
}

/** A bracket below the notes of the task, one for each line of music; the other notes step back. */
export function markTask(svg, first, count, total) {
  const marks = layer(svg, "task-marks");
  const systems = new Map();
  for (let index = 0; index < total; index++) {
    const inside = index >= first && index < first + count;
    for (const part of partsOfNote(svg, index)) {
      part.classList.toggle("outside", !inside);
      const system = part.closest(".system");
      if (inside && system) {
        if (!systems.has(system)) {
          systems.set(system, []);
        }
        systems.get(system).push(part);
      }
    }
  }
  if (count >= total) {
    return null; // the whole passage: a bracket would say nothing
  }
  let firstBracket = null;
  for (const [system, parts] of systems) {
    const boxes = parts.map(part => part.getBBox());
    const left = Math.min(...boxes.map(box => box.x)) - UNIT;
    const right = Math.max(...boxes.map(box => box.x + box.width)) + UNIT;
    const low = Math.max(...boxes.map(box => box.y + box.height), bottomOfStaff(system)) + 3.4 * UNIT;
    const bracket = make("path", { class: "task-bracket", d: `M${left} ${low - 2 * UNIT}V${low}H${right}V${low - 2 * UNIT}` }, marks);
    firstBracket ??= bracket;
  }
  return firstBracket;
}

function bottomOfStaff(system) {
  const lines = [...system.querySelectorAll(".staff > path")].map(line => line.getBBox());
  return lines.length ? Math.max(...lines.map(box => box.y + box.height)) : 0;
}

const DRAWN = {
  "wrong-pitch": (x, y, r) => `M${x - r} ${y - r}H${x + r}V${y + r}H${x - r}Z`,
  flat: (x, y, r) => `M${x - r} ${y - r * .6}L${x} ${y + r * .7}L${x + r} ${y - r * .6}`,
  sharp: (x, y, r) => `M${x - r} ${y + r * .6}L${x} ${y - r * .7}L${x + r} ${y + r * .6}`,
  cracked: (x, y, r) => `M${x - 1.3 * r} ${y}L${x - .6 * r} ${y - r}L${x} ${y + r}L${x + .6 * r} ${y - r}L${x + 1.3 * r} ${y}`,
  missing: (x, y, r) => `M${x} ${y - r}A${r} ${r} 0 1 1 ${x - 1} ${y - r}`,
  extra: (x, y, r) => `M${x - r} ${y}H${x + r}M${x} ${y - r}V${y + r}`,
  early: (x, y, r) => `M${x + r} ${y}H${x - r}M${x - .2 * r} ${y - .8 * r}L${x - r} ${y}L${x - .2 * r} ${y + .8 * r}`,
  late: (x, y, r) => `M${x - r} ${y}H${x + r}M${x + .2 * r} ${y - .8 * r}L${x + r} ${y}L${x + .2 * r} ${y + .8 * r}`,
};

/** Draws each fault above its note: our sign for its kind, and the number it has in the list of words. */
export function markFaults(svg, faults) {
  const marks = layer(svg, "fault-marks");
  const stacked = new Map();
  for (const fault of faults) {
    const part = fault.shown == null ? null : partsOfNote(svg, fault.shown)[0];
    const drawn = DRAWN[fault.fault];
    if (!part || !drawn) {
      continue;
    }
    const head = (part.querySelector(".notehead") ?? part).getBBox();
    const place = fault.fault === "extra" && fault.between ? head.x + head.width * 1.9 : head.x + head.width / 2;
    const level = stacked.get(fault.shown) ?? 0;
    stacked.set(fault.shown, level + 1);
    const low = Math.min(part.getBBox().y, topOfStaff(part.closest(".system")) - 2 * UNIT) - 3 * UNIT - 9 * level * UNIT;
    make("path", { class: `fault fault-${fault.fault}`, d: drawn(place, low, 1.9 * UNIT) }, marks);
    make("text", { class: "fault-number", x: place, y: low - 3 * UNIT }, marks).textContent = String(fault.number);
  }
  growToFit(svg);
}

function topOfStaff(system) {
  const lines = system ? [...system.querySelectorAll(".staff > path")].map(line => line.getBBox().y) : [];
  return lines.length ? Math.min(...lines) : 0;
}

/** Marks may stand above the first line of music: the drawing grows so that none is cut off. */
function growToFit(svg) {
  const inner = svg.querySelector(".definition-scale");
  const margin = svg.querySelector(".page-margin");
  inner.setAttribute("overflow", "visible");
  const box = margin.getBBox();
  const shift = margin.transform.baseVal.consolidate()?.matrix.f ?? 0;
  const [, , innerWidth, innerHeight] = inner.getAttribute("viewBox").split(" ").map(Number);
  const ratio = Number((svg.dataset.width ??= svg.getAttribute("viewBox").split(" ")[2])) / innerWidth;
  const above = Math.max(0, -(box.y + shift)) * ratio;
  const below = Math.max(0, box.y + shift + box.height - innerHeight) * ratio;
  svg.dataset.height ??= svg.getAttribute("viewBox").split(" ")[3];
  svg.setAttribute("viewBox", `0 ${-above} ${svg.dataset.width} ${Number(svg.dataset.height) + above + below}`);
  if (svg.parentElement) {
    fitInto(svg.parentElement, svg);
  }
}

export function clearFaults(svg) {
  svg?.querySelector(".fault-marks")?.remove();
}
