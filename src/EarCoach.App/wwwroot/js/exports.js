/** Links that write a passage, a part of it or a rhythm to a file. */

import { address } from "./api.js";
import { element } from "./shapes.js";

const FORMATS = { midi: "MIDI", musicxml: "MusicXML", mxl: "MusicXML, compressed" };

/** Puts the links behind the words of a place; without a passage they are taken away. */
export function showExports(place, passageId, which = {}) {
  place.querySelectorAll("a").forEach(link => link.remove());
  if (!passageId) {
    return;
  }
  for (const [format, name] of Object.entries(FORMATS)) {
    const link = element("a", { className: "button", href: address(`/api/passages/${passageId}/export`, { format, ...which }), download: "", text: name });
    place.append(" ", link);
  }
}
