/** Opens the microphone, or a recording in its place, and sends what sounds to the program. One source at a time. */

import { getBytes } from "./api.js";

const WANTED = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };
const SPOKEN = {
  echoCancellation: "echo cancellation",
  noiseSuppression: "noise suppression",
  autoGainControl: "automatic gain",
};

export class SoundSource extends EventTarget {
  #context = null;
  #stream = null;
  #sender = null;
  #player = null;

  /** "microphone", "recording" or null. */
  kind = null;
  /** Sentences the player should read about this source. */
  warnings = [];

  get context() {
    return this.#context;
  }

  async openMicrophone(deviceId, way = defaultWay()) {
    this.close();
    if (!navigator.mediaDevices?.getUserMedia) {
      throw new Error("This browser gives no microphone to this address. Open the page as http://localhost or http://127.0.0.1, or play the demo recording.");
    }
    const audio = { ...WANTED, channelCount: { ideal: 1 } };
    if (deviceId) {
      audio.deviceId = { exact: deviceId };
    }
    try {
      this.#stream = await navigator.mediaDevices.getUserMedia({ audio });
    } catch (error) {
      throw new Error(whyNoMicrophone(error));
    }
    const track = this.#stream.getAudioTracks()[0];
    const settings = track.getSettings();
    this.warnings = warningsAbout(settings, track.label);
    this.#context = new AudioContext();
    this.#context.resume();
    track.addEventListener("ended", () => this.#lost("The microphone was unplugged or taken away. Plug it in and press Start again."));
    track.addEventListener("mute", () => this.#sender?.postMessage({ type: "gap", samples: 1 }));
    const rateHz = settings.sampleRate ?? this.#context.sampleRate;
    const hello = { type: "hello", source: "microphone", label: track.label, settings: readable(settings) };
    if (way === "processor") {
      // eslint-disable-next-line no-undef
      const processor = new MediaStreamTrackProcessor({ track, maxBufferSize: 1000 });
      this.#startSender({ ...hello, rateHz, way }, { stream: processor.readable });
    } else {
      await this.#startWorklet(this.#context.createMediaStreamSource(this.#stream), hello);
    }
    this.kind = "microphone";
  }

  /** Plays a recording aloud and into the program, by the very way of the microphone. */
  async openRecording(address, { aloud = true } = {}) {
    this.close();
    this.warnings = [];
    const context = new AudioContext();
    this.#context = context;
    await context.resume();
    const recording = await context.decodeAudioData(await getBytes(address));
    const player = new AudioBufferSourceNode(context, { buffer: recording });
    this.#player = player;
    await this.#startWorklet(player, { type: "hello", source: "recording", label: "demo recording", settings: {} });
    if (aloud) {
      player.connect(context.destination);
    }
    player.onended = () => this.dispatchEvent(new Event("recording-ended"));
    player.start(context.currentTime + 0.5);
    this.kind = "recording";
  }

  /** Tells the program that the page itself makes a sound now. */
  announceCue({ durationMs, tonesHz }) {
    this.#sender?.postMessage({ type: "cue", durationMs, tonesHz });
  }

  close() {
    this.#sender?.postMessage({ type: "stop" });
    this.#stream?.getTracks().forEach(track => track.stop());
    this.#player?.disconnect();
    this.#context?.close();
    this.#sender = this.#stream = this.#player = this.#context = null;
    this.kind = null;
  }

  async #startWorklet(node, hello) {
    const context = this.#context;
    await context.audioWorklet.addModule("js/capture-worklet.js");
    const capture = new AudioWorkletNode(context, "capture", { numberOfInputs: 1, numberOfOutputs: 1 });
    const { port1, port2 } = new MessageChannel();
    capture.port.postMessage(port1, [port1]);
    node.connect(capture).connect(context.destination); // its output is silence; without a way out it would not be asked to run
    context.onstatechange = () => {
      if (context.state === "running") {
        this.#sender?.postMessage({ type: "gap", samples: 1 }); // the clock of the graph stood still while sound went by
      }
    };
    this.#startSender({ ...hello, rateHz: context.sampleRate, way: "worklet" }, { port: port2 });
  }

  #startSender(hello, source) {
    const sender = new Worker("js/sound-sender.js");
    const address = `ws://${location.host}/api/sound`;
    sender.onmessage = event => {
      const told = event.data;
      if (told.type === "closed" && told.code === 4001) {
        this.#lost("Another window of this page listens now.");
      } else if (told.type === "clock") {
        // For measuring how long a verdict takes: the newest mark ties the clock of the sound to that of the wall.
        performance.clearMarks("capture");
        performance.mark("capture", { detail: { seconds: told.seconds, wallMs: told.wallMs } });
      } else if (told.type === "ended") {
        this.#lost("The microphone ended. Press Start again.");
      }
    };
    sender.postMessage({ type: "start", address, hello, ...source }, Object.values(source));
    this.#sender = sender;
  }

  #lost(message) {
    this.close();
    this.dispatchEvent(new CustomEvent("lost", { detail: message }));
  }
}

/** The track processor loses nothing under load, but not every browser has it. */
function defaultWay() {
  const asked = new URLSearchParams(location.search).get("capture");
  return asked ?? ("MediaStreamTrackProcessor" in window ? "processor" : "worklet");
}

function readable(settings) {
  const { echoCancellation, noiseSuppression, autoGainControl, sampleRate, channelCount, latency } = settings;
  return { echoCancellation, noiseSuppression, autoGainControl, sampleRate, channelCount, latency };
}

function warningsAbout(settings, label) {
  const kept = Object.keys(WANTED).filter(name => settings[name] === true || typeof settings[name] === "string");
  const warnings = kept.map(name => `The browser kept ${SPOKEN[name]} on: held notes may be judged wrongly. Turn it off in the system's sound settings, or try another browser or microphone.`);
  if (/bluetooth|hands-?free|headset/i.test(label)) {
    warnings.push(`'${label}' looks like a headset made for speech: it may cut high and low notes. A built-in or cabled microphone hears more.`);
  }
  if (settings.sampleRate && settings.sampleRate < 16000) {
    warnings.push(`The microphone runs at ${settings.sampleRate} samples a second; at least 16000 are needed. Choose another one in Settings.`);
  }
  return warnings;
}

function whyNoMicrophone(error) {
  switch (error.name) {
    case "NotAllowedError":
      return "The microphone was not allowed. Allow it for this address in the browser's address bar, then press Start again; or play the demo recording.";
    case "NotFoundError":
    case "OverconstrainedError":
      return "No microphone was found. Plug one in or choose another in Settings; or play the demo recording.";
    case "NotReadableError":
      return "Another program holds the microphone. Close it, then press Start again; or play the demo recording.";
    default:
      return `The microphone could not be opened (${error.name}: ${error.message}). Try another one, or play the demo recording.`;
  }
}
