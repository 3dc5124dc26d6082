/**
 * Short sounds after an attempt. Told apart by rhythm and direction, each under 400 ms, and away from the first note of the
 * passage by a tritone or a minor third, whatever the octave: none is taken for a pitch to play, and who plays on at once is not taken for a cue.
 */

const GAIN = { off: 0, soft: 0.06, on: 0.25 };

// Each tone: when it begins and how long it lasts in ms, and its place in semitones above the cue's own pitch.
const PATTERNS = {
  clean: [[0, 110, 9], [140, 160, 12]],
  missed: [[0, 260, -12]],
  set: [[0, 90, 0], [115, 90, 9], [230, 150, 12]],
  "not-counted": [[0, 60, -12], [150, 60, -12]],
};

const lengthOf = pattern => Math.max(...pattern.map(([start, length]) => start + length));

/** Milliseconds that the named cue sounds. */
export const cueLengthMs = name => lengthOf(PATTERNS[name]);

/** Plays a cue. Returns how long it sounds in ms and its pitches in Hz; null when cues are off or the page may not sound. */
export function playCue(context, name, loudness, avoidMidi = 60) {
  const gain = GAIN[loudness] ?? 0;
  if (!context || context.state !== "running" || gain === 0) {
    return null;
  }
  const base = 66 + ((avoidMidi + 6) % 12 - 6);
  const now = context.currentTime + 0.01;
  const tonesHz = PATTERNS[name].map(([, , semitones]) => 440 * 2 ** ((base + semitones - 69) / 12));
  for (const [i, [start, length]] of PATTERNS[name].entries()) {
    const begin = now + start / 1000;
    const end = begin + length / 1000;
    const tone = new OscillatorNode(context, { type: "triangle", frequency: tonesHz[i] });
    const level = new GainNode(context, { gain: 0 });
    level.gain.setValueAtTime(0, begin);
    level.gain.linearRampToValueAtTime(gain, begin + 0.008);
    level.gain.setValueAtTime(gain, end - 0.03);
    level.gain.linearRampToValueAtTime(0, end);
    tone.connect(level).connect(context.destination);
    tone.start(begin);
    tone.stop(end);
  }
  return { durationMs: cueLengthMs(name), tonesHz: [...new Set(tonesHz)] };
}
