// Prints, as JSON, what the package abcjs finds in each ABC file named on the command line: the notes of its MIDI sequence
// (sounding pitch; start and duration in whole notes), and its warnings.
import { readFileSync } from 'node:fs';
import abcjs from 'abcjs';

const found = process.argv.slice(2).map((path) => {
  const tune = abcjs.parseOnly(readFileSync(path, 'utf8'))[0];
  const audio = tune.setUpAudio({ chordsOff: true });
  return {
    warnings: tune.warnings ?? [],
    tempo: audio.tempo,
    notes: audio.tracks.flatMap((track) =>
      track.filter((event) => event.cmd === 'note' && event.volume > 0).map(({ pitch, start, duration }) => ({ pitch, start, duration }))),
  };
});
console.log(JSON.stringify(found));
