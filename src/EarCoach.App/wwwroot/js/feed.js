/** The program's messages to the page, over a WebSocket that is opened again whenever it breaks. */

const LONGEST_WAIT_MS = 2000;

export class Feed extends EventTarget {
  #socket = null;
  #waitMs = 200;

  open() {
    const socket = new WebSocket(`ws://${location.host}/api/feed`);
    this.#socket = socket;
    socket.onopen = () => {
      this.#waitMs = 200;
      this.dispatchEvent(new Event("connected"));
    };
    socket.onmessage = message => {
      const told = JSON.parse(message.data);
      this.dispatchEvent(new CustomEvent(told.type, { detail: told }));
    };
    socket.onclose = () => {
      this.dispatchEvent(new Event("lost"));
      setTimeout(() => this.open(), this.#waitMs);
      this.#waitMs = Math.min(this.#waitMs * 1.6, LONGEST_WAIT_MS);
    };
  }

  on(type, listener) {
    this.addEventListener(type, event => listener(event.detail));
    return this;
  }

  /** Sends a message; false when the program cannot be reached just now. */
  send(message) {
    if (this.#socket?.readyState !== WebSocket.OPEN) {
      return false;
    }
    this.#socket.send(JSON.stringify(message));
    return true;
  }
}
