/**
 * Short sounds after an attempt. Told apart by rhythm and direction, each under 400 ms, and away from the first note of the
 * passage by a tritone, so that none is taken for a pitch to play.
 */

const GAIN = { off: 0, soft: 0.06, on: 0.25 };

// Each tone: when it begins and how long it lasts in ms, and its place in semitones above the cue's own pitch.
const PATTERNS = {
  clean: [[0, 110, 7], [140, 160, 12]],
  missed: [[0, 260, -12]],
  set: [[0, 90, 0], [115, 90, 7], [230, 150, 12]],
  "not-counted": [[0, 60, -12], [150, 60, -12]],
  beat: [[0, 40, 19]],
};

const lengthOf = pattern => Math.max(...pattern.map(([start, length]) => start + length));

/** Milliseconds that the named cue sounds. */
export const cueLengthMs = name => lengthOf(PATTERNS[name]);

/** Plays a cue. Returns how long it sounds in ms; 0 when cues are off or the page may not sound. */
export function playCue(context, name, loudness, avoidMidi = 60) {
  const gain = GAIN[loudness] ?? 0;
  if (!context || context.state !== "running" || gain === 0) {
    return 0;
  }
  const base = 66 + ((avoidMidi + 6) % 12 - 6);
  const now = context.currentTime + 0.01;
  for (const [start, length, semitones] of PATTERNS[name]) {
    const begin = now + start / 1000;
    const end = begin + length / 1000;
    const tone = new OscillatorNode(context, { type: "triangle", frequency: 440 * 2 ** ((base + semitones - 69) / 12) });
    const level = new GainNode(context, { gain: 0 });
    level.gain.setValueAtTime(0, begin);
    level.gain.linearRampToValueAtTime(gain, begin + 0.008);
    level.gain.setValueAtTime(gain, end - 0.03);
    level.gain.linearRampToValueAtTime(0, end);
    tone.connect(level).connect(context.destination);
    tone.start(begin);
    tone.stop(end);
  }
  return cueLengthMs(name);
}
