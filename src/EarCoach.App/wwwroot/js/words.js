/** Words that the page makes itself. Verdicts and tasks are worded by the program: the same words as in the terminal. */

const STEPS = ["C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"];

/** The usual name of a MIDI number, in scientific pitch notation (middle C is C4). */
export function pitchName(midi) {
  const nearest = Math.round(midi);
  return `${STEPS[((nearest % 12) + 12) % 12]}${Math.floor(nearest / 12) - 1}`;
}

/** A sentence with its pitch names as musicians write them: Bb4 becomes B♭4. */
export const withAccidentals = sentence =>
  sentence.replace(/\b([A-G])(bb|b|##|#)(-?\d)/g, (_, step, alter, octave) => `${step}${alter.replaceAll("b", "♭").replaceAll("#", "♯")}${octave}`);

/** A sentence as one is written: with a capital. */
export const sentence = words => words.charAt(0).toUpperCase() + words.slice(1);

/** The faults of an attempt that are about a note, numbered as in the list and on the notation; those about the whole bear no number. */
export function faultsOf(attempt) {
  let number = 0;
  return attempt.faults.map(fault => ({
    ...fault,
    words: withAccidentals(fault.words),
    number: fault.shown == null ? null : ++number,
  }));
}

/** By which tolerance the attempt was judged. */
export function limitWords(limits) {
  const pitch = limits.cents == null ? "the right semitone" : `pitch within ${limits.cents} cents`;
  const start = limits.crackMs > 0 ? `cracks up to ${limits.crackMs} ms forgiven` : "no crack forgiven";
  return `Judged by: ${pitch}, ${start}, ${timeWords(limits)}.`;
}

function timeWords(limits) {
  const tempo = `tempo within ${percent(limits.tempoShare)}`;
  switch (limits.timing) {
    case "off":
      return "timing not judged";
    case "rhythm":
      return `long notes at least ${limits.longRatio} times as long as short ones, equal ones within ${percent(limits.evenShare)} or ${limits.onsetMs} ms, ${tempo}`;
    case "fitted":
      return `onsets within ${limits.onsetMs} ms of your own even tempo, ${tempo}`;
    default:
      return `onsets within ${limits.onsetMs} ms of the beat, ${tempo}`;
  }
}

const percent = share => `${Math.round(share * 100)} %`;
