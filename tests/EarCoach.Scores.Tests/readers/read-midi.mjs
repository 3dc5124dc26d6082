// Prints, as JSON, what the package midi-file finds in each file named on the command line: ticks a quarter, notes, tempi, metres, key.
import { readFileSync } from 'node:fs';
import { parseMidi } from 'midi-file';

export function readMidi(bytes) {
  const midi = parseMidi(bytes);
  const found = { format: midi.header.format, ticksPerQuarter: midi.header.ticksPerBeat, notes: [], tempi: [], meters: [], keys: [] };
  for (const track of midi.tracks) {
    let tick = 0;
    const sounding = new Map();
    for (const event of track) {
      tick += event.deltaTime;
      if (event.type === 'noteOn') {
        sounding.set(event.noteNumber, { pitch: event.noteNumber, start: tick });
      } else if (event.type === 'noteOff') {
        const note = sounding.get(event.noteNumber);
        if (note) {
          found.notes.push({ ...note, end: tick });
          sounding.delete(event.noteNumber);
        }
      } else if (event.type === 'setTempo') {
        found.tempi.push({ tick, microseconds: event.microsecondsPerBeat });
      } else if (event.type === 'timeSignature') {
        found.meters.push({ tick, beats: event.numerator, beatType: event.denominator });
      } else if (event.type === 'keySignature') {
        found.keys.push({ tick, fifths: event.key });
      }
    }
  }
  found.notes.sort((a, b) => a.start - b.start);
  return found;
}

if (process.argv[1].endsWith('read-midi.mjs')) {
  console.log(JSON.stringify(process.argv.slice(2).map((path) => readMidi(readFileSync(path)))));
}
