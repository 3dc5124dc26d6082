/** Results in the player's words: which note, what was wrong, by how much, and by which tolerance. */

const STEPS = ["C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"];

/** The usual name of a MIDI number, in scientific pitch notation (middle C is C4). */
export function pitchName(midi) {
  const nearest = Math.round(midi);
  return `${STEPS[((nearest % 12) + 12) % 12]}${Math.floor(nearest / 12) - 1}`;
}

const rounded = value => Math.abs(Math.round(value));

const VERDICTS = { clean: "Clean", missed: "Missed", "not-counted": "Not counted" };

export const verdictWord = verdict => VERDICTS[verdict] ?? verdict;

const REASONS = {
  tempo: attempt => attempt.tempoBpm
    ? `The tempo was ${Math.round(attempt.tempoBpm)} quarters a minute; asked was ${Math.round(attempt.askedBpm)}, within ${Math.round(attempt.limits.tempoShare * 100)} %.`
    : "The tempo was too far from the one asked for.",
  stopped: () => "You stopped before the last note.",
  "false-start": () => "A false start, begun again at once.",
  gap: () => "Some sound was lost on the way here.",
  clipping: () => "The sound was too loud for the microphone: move it away or turn its gain down.",
  noise: () => "Other sound covered the playing.",
  disputed: () => "You disagreed with the verdict.",
};

/** Why an attempt was missed as a whole, or was not counted; "" where no single reason applies. */
export function reasonWords(attempt) {
  if (!attempt.reason) {
    return "";
  }
  const known = REASONS[attempt.reason];
  return known ? known(attempt) : `${attempt.reason[0].toUpperCase()}${attempt.reason.slice(1)}.`;
}

function faultWords(fault, note, limits) {
  switch (fault) {
    case "wrong-pitch": return note.heard ? `wrong-pitch, heard ${note.heard}` : "wrong-pitch";
    case "flat":
    case "sharp": return `${fault} by ${rounded(note.centsOff)} cents (${limits.cents} allowed)`;
    case "cracked": return note.crackMs ? `cracked, another pitch for ${rounded(note.crackMs)} ms (${limits.crackMs} forgiven)` : "cracked";
    case "missing": return "missing, not heard";
    case "extra": return "extra, struck again";
    case "early":
    case "late": return `${fault} by ${rounded(note.msOff)} ms (${limits.onsetMs} allowed)`;
    default: return fault;
  }
}

/** The faults of an attempt, one entry each, numbered as on the notation. noteIndex counts the notes that are shown. */
export function faultsOf(attempt) {
  const faults = [];
  const place = note => `${note.bar != null ? `Bar ${note.bar}, ` : ""}${note.written}`;
  for (const note of attempt.notes) {
    for (const fault of note.faults) {
      if (fault === "extra" && attempt.extraNotes.some(extra => extra.afterIndex === note.index)) {
        continue; // said below, with the pitch that was heard
      }
      faults.push({ fault, noteIndex: note.shown, words: `${place(note)}: ${faultWords(fault, note, attempt.limits)}` });
    }
  }
  for (const extra of attempt.extraNotes) {
    const note = attempt.notes[Math.max(0, Math.min(extra.afterIndex, attempt.notes.length - 1))];
    const isRestrike = note && Math.round(extra.midi) === note.midi;
    const words = isRestrike ? "extra, struck again" : `extra, ${extra.heard} is not in the passage`;
    faults.push({ fault: "extra", between: !isRestrike, noteIndex: note?.shown ?? attempt.shownFirst, words: `${note ? place(note) : "Before the first note"}: ${words}` });
  }
  faults.sort((a, b) => a.noteIndex - b.noteIndex);
  faults.forEach((fault, i) => { fault.number = i + 1; });
  return faults;
}

/** By which tolerance the attempt was judged. */
export function limitWords(limits) {
  const pitch = limits.cents == null ? "the right semitone" : `pitch within ${limits.cents} cents`;
  const start = limits.crackMs > 0 ? `cracks up to ${limits.crackMs} ms forgiven` : "no crack forgiven";
  const time = limits.timing === "off"
    ? "timing not judged"
    : `onsets within ${limits.onsetMs} ms of ${limits.timing === "fitted" ? "your own even tempo" : "the beat"}, tempo within ${Math.round(limits.tempoShare * 100)} %`;
  return `Judged by: ${pitch}, ${start}, ${time}.`;
}
