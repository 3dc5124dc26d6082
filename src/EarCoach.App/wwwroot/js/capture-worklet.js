/** Runs on the audio thread: gathers the input as mono blocks and sends each with the running index of its first sample. */

const BLOCK_SAMPLES = 512;

class Capture extends AudioWorkletProcessor {
  #port = null;
  #block = new Float32Array(BLOCK_SAMPLES);
  #filled = 0;
  #blockStart = 0;
  #expectedFrame = -1;

  constructor() {
    super();
    this.port.onmessage = event => { this.#port = event.data; };
  }

  process(inputs) {
    const channels = inputs[0];
    if (!this.#port) {
      return true;
    }
    // The graph's own frame counter jumps where whole quanta were skipped: the jump travels on in the index.
    if (currentFrame !== this.#expectedFrame) {
      this.#filled = 0;
    }
    const quantum = channels.length > 0 ? channels[0].length : 128;
    this.#expectedFrame = currentFrame + quantum;
    for (let i = 0; i < quantum; i++) {
      if (this.#filled === 0) {
        this.#blockStart = currentFrame + i;
      }
      let sum = 0;
      for (const channel of channels) {
        sum += channel[i];
      }
      this.#block[this.#filled++] = channels.length > 0 ? sum / channels.length : 0;
      if (this.#filled === BLOCK_SAMPLES) {
        const samples = this.#block.slice();
        this.#port.postMessage({ start: this.#blockStart, samples }, [samples.buffer]);
        this.#filled = 0;
      }
    }
    return true;
  }
}

registerProcessor("capture", Capture);
