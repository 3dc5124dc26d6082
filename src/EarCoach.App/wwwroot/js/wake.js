/** Keeps the screen awake while practice is under way: nobody touches the machine for minutes. */

let wanted = false;
let lock = null;

async function take() {
  if (!wanted || lock || document.visibilityState !== "visible" || !("wakeLock" in navigator)) {
    return;
  }
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => { lock = null; });
  } catch {
    lock = null; // low battery or not allowed: the screen then sleeps as the system says
  }
}

document.addEventListener("visibilitychange", take);

export function keepAwake(on) {
  wanted = on;
  if (on) {
    take();
  } else {
    lock?.release();
  }
}
