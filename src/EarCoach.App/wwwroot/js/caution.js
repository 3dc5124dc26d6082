/** The caution about loudness and overuse: one text, shown once before the first practice and kept in Settings. */

import { element } from "./shapes.js";

const PARAGRAPHS = [
  "Practising the same bars again and again is work for lips, hands, back and ears. Rest about as long as you play, take a longer break at least every half hour, and raise the amount slowly over days, not at once.",
  "Loud playing in a small room can harm hearing. This program cannot measure how loud it is where your ears are, and nothing it shows says that a level is safe. The rules that hold where you live or work, and hearing protection made for musicians, come before anything here.",
  "Pain, numbness, a tired lip or ringing ears: stop. Ask your teacher, and a physician who knows musicians. Proposals of this program never replace their advice.",
];

export function fillCautions() {
  for (const place of document.querySelectorAll(".caution-words")) {
    place.replaceChildren(...PARAGRAPHS.map(text => element("p", { text })));
  }
}
