/**
 * A worker that carries the sound to the program, away from the page's own work.
 * Takes it from a port (blocks of an AudioWorklet) or from a stream (AudioData of a MediaStreamTrackProcessor).
 * Each binary message: 8 bytes, the index of the first sample (little-endian), then 32-bit float samples.
 */

const HEADER_BYTES = 8;
const MOST_BYTES_WAITING = 4 * 1024 * 1024; // about 20 s of sound: past that the program does not keep up, and the gap is reported
const CLOCK_EVERY_MS = 250;
const LONGEST_STALL_US = 250_000; // a jump of the capture clock that no scheduling explains: the device slept or lost sound

let socket = null;
let hello = null;
let address = "";
let stopped = false;
let clockStart = null; // index at which the program's own clock of this session began
let clockToldMs = 0;
let offset = 0; // added to the source's indices once a gap was reported from outside

self.onmessage = event => {
  const told = event.data;
  switch (told.type) {
    case "start":
      address = told.address;
      hello = told.hello;
      connect();
      if (told.stream) {
        readStream(told.stream);
      } else {
        told.port.onmessage = block => send(block.data.start, block.data.samples);
      }
      break;
    case "gap":
      offset += told.samples;
      break;
    case "cue":
      tell({ type: "cue", durationMs: told.durationMs, tonesHz: told.tonesHz });
      break;
    case "stop":
      stopped = true;
      socket?.close(1000);
      self.close();
      break;
  }
};

function connect() {
  if (stopped) {
    return;
  }
  socket = new WebSocket(address);
  socket.binaryType = "arraybuffer";
  socket.onopen = () => {
    socket.send(JSON.stringify(hello));
    self.postMessage({ type: "open" });
  };
  socket.onmessage = message => {
    const told = JSON.parse(message.data);
    if (told.type === "clock") {
      clockStart = told.start;
    }
  };
  socket.onclose = event => {
    self.postMessage({ type: "closed", code: event.code, reason: event.reason });
    // 4001: another page took over, and this one must not take it back by itself.
    if (!stopped && event.code !== 4001) {
      setTimeout(connect, 300);
    }
  };
}

function tell(message) {
  if (socket?.readyState === WebSocket.OPEN) {
    socket.send(JSON.stringify(message));
  }
}

function send(start, samples) {
  if (socket?.readyState !== WebSocket.OPEN || socket.bufferedAmount > MOST_BYTES_WAITING) {
    return; // the index of the next block shows what was lost
  }
  const message = new ArrayBuffer(HEADER_BYTES + samples.length * 4);
  new DataView(message).setBigInt64(0, BigInt(start + offset), true);
  new Float32Array(message, HEADER_BYTES).set(samples);
  socket.send(message);
  tellClock(start + offset + samples.length);
}

/** Now and then tells the page which second of the session's clock has just been captured. */
function tellClock(index) {
  const nowMs = performance.timeOrigin + performance.now();
  if (clockStart !== null && nowMs - clockToldMs >= CLOCK_EVERY_MS) {
    clockToldMs = nowMs;
    self.postMessage({ type: "clock", seconds: (index - clockStart) / hello.rateHz, wallMs: nowMs });
  }
}

async function readStream(stream) {
  const reader = stream.getReader();
  let index = 0;
  let expectedUs = null;
  let mono = new Float32Array(0);
  let plane = new Float32Array(0);
  for (;;) {
    const { value: data, done } = await reader.read();
    if (done || stopped) {
      self.postMessage({ type: "ended" });
      return;
    }
    const frames = data.numberOfFrames;
    if (mono.length !== frames) {
      mono = new Float32Array(frames);
      plane = new Float32Array(frames);
    }
    mono.fill(0);
    for (let channel = 0; channel < data.numberOfChannels; channel++) {
      data.copyTo(plane, { planeIndex: channel, format: "f32-planar" });
      for (let i = 0; i < frames; i++) {
        mono[i] += plane[i] / data.numberOfChannels;
      }
    }
    if (expectedUs !== null && data.timestamp - expectedUs > LONGEST_STALL_US) {
      index += Math.round((data.timestamp - expectedUs) * data.sampleRate / 1e6);
    }
    expectedUs = data.timestamp + frames * 1e6 / data.sampleRate;
    send(index, mono);
    index += frames;
    data.close();
  }
}
