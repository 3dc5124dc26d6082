#!/usr/bin/python3
"""Renders recordings of someone practising the passages of fixtures/passages, with known faults, and writes the truth beside them.

    make_reference_audio.py [--out FOLDER] [--only NAME] [--sf2 FILE]

For each passage NAME.wav (16-bit mono, 32 kHz, several attempts) and NAME.json (what was played, note by note). Needs fluidsynth,
fluid-soundfont-gm, python3-numpy and python3-scipy of Debian. The same input gives the same files, bit by bit.

Tones come one by one from the sound font, are measured (pitch and onset), and are then laid out as a player would: resampled to the
wanted pitch, cut short before a tongued note, cross-faded into a slurred one. Onset: where a tone first reaches 20 dB below its own
maximum; of a slurred note the middle of the cross-fade. Cents: of the median over the steady part as measured
in the dry sound (autocorrelation), from equal temperament at A = 440 Hz; for notes under 130 ms as planned.
"""
import argparse
import json
import os
import struct
import subprocess
import sys
import tempfile
import wave
import zlib

import numpy as np
from scipy import ndimage, signal

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "fixtures", "passages"))
sys.dont_write_bytecode = True
from passages import PASSAGES, _meta, _track  # noqa: E402

BANK_RATE = 48_000
RATE = 32_000
TONE_SECONDS = 4.5
SLUR_SECONDS = 0.016       # cross-fade of a slur
SHORTEST_MEASURED = 0.13   # seconds
TOLERANCE = dict(cents=30.0, ms=70.0)  # what the faults were made for: they lie well outside, clean notes well inside

# What happens in each attempt: None is clean, else (fault, index of the note, and for some how much).
SESSIONS = {
    "horn-valley-call": dict(room="room", attempts=[
        None, ("cracked", 4, 70, 0.09), None, ("wrong", 6, 72), ("flat", 3, -44), None]),
    "trumpet-gate-signal": dict(room="room", attempts=[
        None, ("extra", 5), ("late", 9, 150), None, ("cracked", 8, 77, 0.10)]),
    "clarinet-mill-wheel": dict(room="studio", attempts=[
        ("missing", 9), None, ("sharp", 4, 43), None, None]),
    "flute-ferry-dance": dict(room="room", attempts=[
        None, ("wrong", 12, 83), ("stopped", 7), None, ("sharp", 3, 45)]),
    "violin-loom-study": dict(room="studio", attempts=[
        ("flat", 10, -37), None, ("early", 12, -140), ("wrong", 5, 70), None]),
    "bassoon-night-watch": dict(room="laptop", attempts=[
        None, ("late", 5, 160), ("extra", 12), None, ("missing", 7)]),
}
ROOMS = {  # decay to -60 dB in s, its level against the direct sound, noise below the playing in dB, low and high cut in Hz, peak in dBFS
    "studio": dict(decay=0.12, wet=0.10, noise=50, low=0, high=0, peak=-6),
    "room": dict(decay=0.40, wet=0.28, noise=40, low=0, high=0, peak=-10),
    "laptop": dict(decay=0.40, wet=0.30, noise=30, low=180, high=9_000, peak=-16),
}


class Tone:
    """One isolated tone of the sound font: samples, pitch and onset."""

    def __init__(self, samples, midi):
        smooth = np.sqrt(ndimage.uniform_filter1d(samples ** 2, int(0.008 * BANK_RATE)))
        self.onset = int(np.argmax(smooth > 0.1 * smooth.max()))
        self.samples = samples / np.sqrt(np.mean(samples[self.onset + BANK_RATE // 4:self.onset + 2 * BANK_RATE] ** 2))
        self.hz = median_pitch(samples[self.onset + BANK_RATE // 4:self.onset + 2 * BANK_RATE], BANK_RATE, hz(midi))

    def cut(self, target_hz, seconds, attack):
        """`seconds` of the tone at RATE and target_hz; returns the samples and where the onset lies in them (0 without an attack)."""
        step = target_hz / self.hz * BANK_RATE / RATE
        lead = int(min(self.onset / step, 0.05 * RATE)) if attack else 0
        first = self.onset - lead * step if attack else self.onset + 0.3 * BANK_RATE
        at = first + np.arange(lead + int(seconds * RATE)) * step
        if at[-1] > len(self.samples) - 1:
            raise SystemExit("a tone is too short for its note: lengthen TONE_SECONDS")
        return ndimage.map_coordinates(self.samples, [at], order=5, mode="constant"), lead


def hz(midi, cents=0.0):
    return 440.0 * 2 ** ((midi - 69 + cents / 100) / 12)


def median_pitch(x, rate, near_hz):
    """Median over 50 ms frames of the lag at which the frame resembles itself most, within a semitone of near_hz."""
    lags = np.arange(int(rate / near_hz / 1.06), int(np.ceil(rate / near_hz * 1.06)) + 2)
    size, found = int(max(0.05, 3 / near_hz) * rate), []
    for start in range(0, len(x) - size - lags[-1] - 1, rate // 50):
        a = x[start:start + size]
        likeness = np.array([np.dot(a, x[start + lag:start + lag + size])
                             / np.sqrt(np.dot(a, a) * np.dot(x[start + lag:start + lag + size], x[start + lag:start + lag + size]) + 1e-12)
                             for lag in lags])
        k = int(np.argmax(likeness[1:-1])) + 1
        left, mid, right = likeness[k - 1:k + 2]
        found.append(rate / (lags[k] + 0.5 * (left - right) / (left - 2 * mid + right)))
    return float(np.median(found))


def render_bank(program, pitches, sf2, folder):
    """Plays each pitch alone through fluidsynth; returns the tones."""
    space = TONE_SECONDS + 1.5
    events = [(0, 0, bytes([0xC0, program])), (0, 1, _meta(0x51, (500_000).to_bytes(3, "big")))]
    for k, midi in enumerate(pitches):
        events.append((int((0.5 + k * space) * 960), 3, bytes([0x90, midi, 92])))
        events.append((int((0.5 + k * space + TONE_SECONDS) * 960), 2, bytes([0x80, midi, 64])))
    song, sound = os.path.join(folder, "bank.mid"), os.path.join(folder, "bank.wav")
    with open(song, "wb") as f:
        f.write(b"MThd" + struct.pack(">IHHH", 6, 0, 1, 480) + _track(events))
    subprocess.run(["fluidsynth", "-ni", "-g", "0.8", "-R", "0", "-C", "0", "-r", str(BANK_RATE), "-T", "wav", "-F", sound, sf2, song],
                   check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    with wave.open(sound) as f:
        x = np.frombuffer(f.readframes(f.getnframes()), "<i2").reshape(-1, f.getnchannels()).mean(axis=1) / 32768
    x = signal.sosfiltfilt(signal.butter(8, 14_000, fs=BANK_RATE, output="sos"), x)  # nothing above the new rate's half
    return {midi: Tone(x[int((0.4 + k * space) * BANK_RATE):int((0.5 + k * space + TONE_SECONDS) * BANK_RATE)], midi)
            for k, midi in enumerate(pitches)}


def bounded(rng, sd, limit):
    return float(np.clip(rng.normal(0, sd), -limit, limit))


def plan_attempt(rng, passage, start, fault):
    """Decides when and how each note is played: a list of dictionaries, and the length of a quarter note in seconds."""
    kind, index = (fault[0], fault[1]) if fault else (None, -1)
    quarter = 60 / passage.bpm * (1 + bounded(rng, 0.012, 0.025))
    lean = bounded(rng, 2, 4)
    plan = []
    for i, note in enumerate(passage.notes):
        ms = bounded(rng, 6, 15) if i else 0.0
        cents = lean + bounded(rng, 3, 7)
        played, faults = note.midi, []
        if i == index and kind not in (None, "stopped"):
            faults = [kind]
            if kind == "wrong":
                played = fault[2]
                assert played not in {n.midi for n in passage.notes[max(0, i - 1):i + 2]}, "a wrong note that is right, or its neighbour"
            elif kind in ("flat", "sharp"):
                cents = float(fault[2])
            elif kind in ("early", "late"):
                ms = float(fault[2])
        plan.append(dict(index=i, note=note, played=played, cents=cents, ms=ms, faults=faults,
                         crack=fault[2:] if kind == "cracked" and i == index else None,
                         at=start + float(note.beat) * quarter + ms / 1000, silent=kind == "missing" and i == index))
        if kind == "stopped" and i == index:
            break
    return plan, quarter


def lay(out, at_sample, y):
    first = max(0, -at_sample)
    last = min(len(y), len(out) - at_sample)
    out[at_sample + first:at_sample + last] += y[first:last]


def sound(out, tone, target_hz, begin, end, attack, joins):
    """Adds one tone that begins (its onset) and ends at these seconds; joins: a cross-fade follows, else a release."""
    half = 0 if attack else int(SLUR_SECONDS * RATE / 2)
    tail = int(SLUR_SECONDS * RATE / 2) if joins else int(0.02 * RATE)
    y, lead = tone.cut(target_hz, end - begin + (half + tail) / RATE, attack)
    if half:
        y[:2 * half] *= np.sin(np.linspace(0, np.pi / 2, 2 * half))
    fade = 2 * tail if joins else int(0.04 * RATE)
    y[-fade:] *= np.cos(np.linspace(0, np.pi / 2, fade))
    lay(out, int(round(begin * RATE)) - lead - half, y)


def render_attempt(rng, passage, bank, out, start, fault):
    """Plays one attempt into `out`; returns its truth."""
    plan, quarter = plan_attempt(rng, passage, start, fault)
    level = 10 ** (rng.uniform(-2.5, 2.5) / 20)
    take = np.zeros_like(out)
    notes, extras, last_end = [], [], start
    for k, p in enumerate(plan):
        note = p["note"]
        if p["silent"]:
            notes.append(dict(index=p["index"], midi=note.midi, onset=None, offset=None, cents=None, ms=None, faults=["missing"]))
            continue
        after = plan[k + 1] if k + 1 < len(plan) and not plan[k + 1]["silent"] else None
        touches = after is not None and after["note"].beat == note.beat + note.length
        joins = touches and after["note"].slurred
        slurred = note.slurred and k > 0 and not plan[k - 1]["silent"] and plan[k - 1]["note"].beat + plan[k - 1]["note"].length == note.beat
        end = after["at"] if touches else p["at"] + float(note.length) * quarter
        if not joins:
            end -= min(0.25 * (end - p["at"]), rng.uniform(0.045, 0.085))
        begin, attack = p["at"], not slurred
        if p["crack"]:
            other, seconds = p["crack"]
            sound(take, bank[other], hz(other), begin, begin + seconds, attack, True)
            begin, attack = begin + seconds, False
        if "extra" in p["faults"]:            # struck again within its length
            again = p["at"] + 0.5 * (end - p["at"])
            sound(take, bank[p["played"]], hz(p["played"], p["cents"]), begin, again - 0.06, attack, False)
            begin, attack = again, True
            extras.append(dict(onset=round(again, 5), midi=p["played"]))
        sound(take, bank[p["played"]], hz(p["played"], p["cents"]), begin, end, attack, joins)
        last_end = max(last_end, end)
        notes.append(dict(index=p["index"], midi=note.midi, played=p["played"], onset=round(p["at"], 5), offset=round(end, 5),
                          cents=round(p["cents"], 2), ms=round(p["ms"], 2), faults=p["faults"], slurred=bool(slurred)))
    out += take * level
    return dict(start=round(start, 4), end=round(last_end, 4), verdict="missed" if fault else "clean", fault=fault[0] if fault else None,
                bpm=round(60 / quarter, 3), notes=notes, extras=extras)


def add_room(rng, dry, attempts, room):
    """The room's answer, its noise, a breath before each attempt, and the microphone's limits."""
    playing = np.concatenate([dry[int(a["start"] * RATE):int(a["end"] * RATE)] for a in attempts])
    loud = np.sqrt(np.mean(playing ** 2))
    x = dry.copy()
    band = signal.butter(2, [600, 4_000], "bandpass", fs=RATE, output="sos")
    for a in attempts:
        breath = signal.sosfilt(band, rng.normal(size=int(0.4 * RATE))) * np.hanning(int(0.4 * RATE))
        lay(x, int((a["start"] - 0.6) * RATE), breath / np.sqrt(np.mean(breath ** 2)) * loud * 0.015)
    n = int(room["decay"] * RATE)
    answer = rng.normal(size=n) * 10 ** (-3 * np.arange(n) / RATE / room["decay"])
    answer[:int(0.006 * RATE)] = 0
    answer = signal.sosfilt(signal.butter(1, 5_000, fs=RATE, output="sos"), answer)
    x += signal.fftconvolve(x, answer * room["wet"] / np.sqrt(np.sum(answer ** 2)))[:len(x)]
    spectrum = np.fft.rfft(rng.normal(size=len(x)))
    spectrum /= np.sqrt(np.maximum(np.fft.rfftfreq(len(x), 1 / RATE), 30))   # pink
    noise = np.fft.irfft(spectrum, len(x))
    x += noise / np.sqrt(np.mean(noise ** 2)) * loud * 10 ** (-room["noise"] / 20)
    if room["low"]:
        x = signal.sosfilt(signal.butter(2, room["low"], "highpass", fs=RATE, output="sos"), x)
    if room["high"]:
        x = signal.sosfilt(signal.butter(2, room["high"], fs=RATE, output="sos"), x)
    return x / np.abs(x).max() * 10 ** (room["peak"] / 20)


def measure(dry, attempts, name):
    """Puts the pitch that really sounds into the truth (tones of a sound font waver), for every note long enough to measure."""
    worst = 0.0
    for a in attempts:
        for n in a["notes"]:
            if n["onset"] is None or n["offset"] - n["onset"] < SHORTEST_MEASURED:
                continue
            begin, end = n["onset"] + 0.05, n["offset"] - 0.02
            if "cracked" in n["faults"]:
                begin += 0.1
            if "extra" in n["faults"]:
                begin = 0.5 * (n["onset"] + n["offset"]) + 0.08
            wanted = hz(n["played"], n["cents"])
            off = 1200 * np.log2(median_pitch(dry[int(begin * RATE):int(end * RATE)], RATE, wanted) / wanted)
            worst = max(worst, abs(off))
            n["cents"] = round(n["cents"] + off, 2)
    print(f"  {name}: pitch as played and as planned differ by {worst:.1f} cents at most")


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--out", default=HERE)
    arguments.add_argument("--only", default="")
    arguments.add_argument("--sf2", default="/usr/share/sounds/sf2/FluidR3_GM.sf2")
    a = arguments.parse_args()
    os.makedirs(a.out, exist_ok=True)
    for passage in (p for p in PASSAGES if a.only in p.name):
        session = SESSIONS[passage.name]
        rng = np.random.default_rng(zlib.crc32(passage.name.encode()))
        pitches = {n.midi for n in passage.notes} | {f[2] for f in session["attempts"] if f and f[0] in ("wrong", "cracked")}
        with tempfile.TemporaryDirectory() as folder:
            bank = render_bank(passage.program, sorted(pitches), a.sf2, folder)
        length = float(passage.notes[-1].beat + passage.notes[-1].length) * 60 / passage.bpm
        dry = np.zeros(int((2 + len(session["attempts"]) * (length * 1.05 + 2)) * RATE))
        attempts, at = [], 1.0
        for fault in session["attempts"]:
            attempts.append(render_attempt(rng, passage, bank, dry, at, fault))
            at = attempts[-1]["end"] + rng.uniform(1.3, 1.9)
        dry = dry[:int((attempts[-1]["end"] + 1.0) * RATE)]
        measure(dry, attempts, passage.name)
        x = np.clip(np.round(add_room(rng, dry, attempts, ROOMS[session["room"]]) * 32767), -32768, 32767).astype("<i2")
        with wave.open(os.path.join(a.out, passage.name + ".wav"), "wb") as f:
            f.setnchannels(1)
            f.setsampwidth(2)
            f.setframerate(RATE)
            f.writeframes(x.tobytes())
        truth = dict(name=passage.name, instrument=passage.instrument, condition=session["room"], bank="FluidR3_GM", bpm=passage.bpm, a4=440.0,
                     tolerance=TOLERANCE, passage=[dict(midi=n.midi, beat=float(n.beat), length=float(n.length), slurred=n.slurred) for n in passage.notes],
                     attempts=attempts)
        with open(os.path.join(a.out, passage.name + ".json"), "w", encoding="utf-8") as f:
            json.dump(truth, f, indent=1)
            f.write("\n")
        print(passage.name, f"{len(x) / RATE:.1f} s", [t["fault"] or "clean" for t in attempts], flush=True)


if __name__ == "__main__":
    main()
