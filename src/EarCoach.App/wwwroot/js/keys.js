/** Keys and pedals. A pedal is a keyboard to the browser; which key it sends is learnt by pressing it. */

export const COMMANDS = {
  pause: "Pause or go on",
  dispute: "Dispute the last verdict",
  repeat: "Start this stage over",
  skip: "Skip to the next stage",
  numbers: "Change the numbers",
};

export const DEFAULT_KEYS = { pause: ["Space", "PageDown"], dispute: ["KeyD", "PageUp"], repeat: ["KeyR"], skip: ["KeyS"], numbers: ["KeyN"] };

const SPOKEN = { Space: "Space", PageDown: "Page Down", PageUp: "Page Up", ArrowLeft: "←", ArrowRight: "→", ArrowUp: "↑", ArrowDown: "↓", Enter: "Enter", Escape: "Esc" };

/** The name of a key as printed on it. */
export const keyName = code => SPOKEN[code] ?? code.replace(/^(Key|Digit)/, "").replace(/^Numpad/, "Keypad ");

const isTyping = target => target instanceof HTMLElement && (target.matches("input, select, textarea") || target.isContentEditable);

/** Calls back with the command of each bound key, while enabled() holds. Auto-repeat is no second press. */
export function listenForKeys(bindings, enabled, onCommand) {
  document.addEventListener("keydown", event => {
    if (!enabled() || isTyping(event.target) || event.ctrlKey || event.altKey || event.metaKey) {
      return;
    }
    const presses = event.code === "Space" || event.code === "Enter";
    if (presses && event.target instanceof HTMLElement && event.target.closest("button, a")) {
      return; // the key belongs to the button that has the focus
    }
    const command = Object.keys(bindings()).find(name => bindings()[name].includes(event.code));
    if (command) {
      event.preventDefault(); // the page must not scroll under a pedal
      if (!event.repeat) {
        onCommand(command);
      }
    }
  });
}

/** Resolves with the code of the next key pressed; null for Escape. */
export function nextKey() {
  return new Promise(resolve => {
    const listener = event => {
      if (["ShiftLeft", "ShiftRight", "ControlLeft", "ControlRight", "AltLeft", "AltRight", "MetaLeft", "MetaRight", "Tab"].includes(event.code)) {
        return;
      }
      event.preventDefault();
      event.stopPropagation();
      document.removeEventListener("keydown", listener, true);
      resolve(event.code === "Escape" ? null : event.code);
    };
    document.addEventListener("keydown", listener, true);
  });
}
