/** Engraves MusicXML off the page's thread, so that a long passage never holds up the live display. */

import createModule from "../lib/verovio/verovio-module.mjs";
import { VerovioToolkit } from "../lib/verovio/verovio.mjs";

const toolkit = createModule().then(module => new VerovioToolkit(module));

/** The page says title, instrument and tempo in its own words; the engraver's metronome mark would need a music font that is not embedded. */
const withoutWords = musicXml => musicXml
  .replace(/<part-name>[^<]*<\/part-name>/g, "<part-name></part-name>")
  .replace(/<direction[ >][\s\S]*?<\/direction>/g, "");

self.onmessage = async event => {
  const { id, musicXml, widthPx, scale } = event.data;
  try {
    const engraver = await toolkit;
    engraver.setOptions({
      inputFrom: "xml",
      pageWidth: Math.max(600, Math.round(widthPx * 100 / scale)),
      pageHeight: 60000,
      scale,
      adjustPageHeight: true,
      adjustPageWidth: true,
      breaks: "auto",
      header: "none",
      footer: "none",
      svgViewBox: true,
      svgRemoveXlink: true,
      mnumInterval: 1,
      pageMarginTop: 60,
      pageMarginBottom: 140,
      pageMarginLeft: 40,
      pageMarginRight: 40,
      spacingSystem: 14,
    });
    if (!engraver.loadData(withoutWords(musicXml))) {
      throw new Error(engraver.getLog() || "The score could not be read.");
    }
    self.postMessage({ id, svg: engraver.renderToSVG(1) });
  } catch (error) {
    self.postMessage({ id, problem: String(error?.message ?? error) });
  }
};
