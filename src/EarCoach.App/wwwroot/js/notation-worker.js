/** Engraves MusicXML off the page's thread, so that a long passage never holds up the live display. */

import createModule from "../lib/verovio/verovio-module.mjs";
import { VerovioToolkit } from "../lib/verovio/verovio.mjs";

const toolkit = createModule().then(module => new VerovioToolkit(module));

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
    if (!engraver.loadData(musicXml)) {
      throw new Error(engraver.getLog() || "The score could not be read.");
    }
    self.postMessage({ id, svg: engraver.renderToSVG(1) });
  } catch (error) {
    self.postMessage({ id, problem: String(error?.message ?? error) });
  }
};
