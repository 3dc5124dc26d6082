// Reads from standard input a JSON list of { path, format, ticksPerQuarter, running, notes: [{ pitch, start, end }], tempi, meters, fifths }
// and writes each as a Standard MIDI File with the package midi-file.
import { readFileSync, writeFileSync } from 'node:fs';
import { writeMidi } from 'midi-file';

for (const wanted of JSON.parse(readFileSync(0, 'utf8'))) {
  const marks = [
    { tick: 0, deltaTime: 0, type: 'keySignature', key: wanted.fifths, scale: 0 },
    ...wanted.meters.map((m) => ({ tick: m.tick, type: 'timeSignature', numerator: m.beats, denominator: m.beatType, metronome: 24, thirtyseconds: 8 })),
    ...wanted.tempi.map((t) => ({ tick: t.tick, type: 'setTempo', microsecondsPerBeat: t.microseconds })),
  ];
  const notes = wanted.notes.flatMap((n) => [
    { tick: n.start, rank: 2, type: 'noteOn', channel: 0, noteNumber: n.pitch, velocity: 70 },
    { tick: n.end, rank: 1, type: 'noteOff', channel: 0, noteNumber: n.pitch, velocity: 0 },
  ]);
  const tracks = (wanted.format === 0 ? [[...marks, ...notes]] : [marks, notes]).map((events) => {
    events.sort((a, b) => a.tick - b.tick || (a.rank ?? 0) - (b.rank ?? 0));
    let now = 0;
    const timed = events.map((event) => {
      const deltaTime = event.tick - now;
      now = event.tick;
      return { ...event, deltaTime };
    });
    return [...timed, { deltaTime: 0, type: 'endOfTrack', meta: true }].map((e) => ({ ...e, meta: e.meta ?? /Signature|setTempo/.test(e.type) }));
  });
  const header = { format: wanted.format, numTracks: tracks.length, ticksPerBeat: wanted.ticksPerQuarter };
  writeFileSync(wanted.path, Buffer.from(writeMidi({ header, tracks }, { running: wanted.running, useByte9ForNoteOff: wanted.running })));
}
