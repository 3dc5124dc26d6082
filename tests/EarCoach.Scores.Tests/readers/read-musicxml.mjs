// Prints, as JSON, what the package verovio makes of each MusicXML or ABC file named on the command line: the notes of its MIDI rendering
// (sounding pitch, ticks), read with midi-file, and what it logged.
import { readFileSync } from 'node:fs';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { readMidi } from './read-midi.mjs';

const toolkit = new VerovioToolkit(await createVerovioModule());
toolkit.setOptions({ scale: 30 });
const found = process.argv.slice(2).map((path) => {
  const loaded = toolkit.loadData(readFileSync(path, 'utf8'));
  const svg = loaded ? toolkit.renderToSVG(1) : '';
  return {
    loaded: Boolean(loaded),
    log: toolkit.getLog(),
    ids: [...svg.matchAll(/id="(n\d+)"/g)].map((match) => match[1]),
    ...readMidi(Buffer.from(toolkit.renderToMIDI(), 'base64')),
  };
});
console.log(JSON.stringify(found));
