/** What the player set, kept by the program so that it does not depend on the browser. */

import { getJson, putJson } from "./api.js";
import { DEFAULT_KEYS } from "./keys.js";

const DEFAULTS = {
  theme: "auto",
  distance: "stand",
  noteSize: 100,
  stillness: false,
  cues: "soft",
  beat: "off",
  deviceId: "",
  keepMegabytes: 2000,
  cautionSeen: false,
  keys: DEFAULT_KEYS,
  lastSetup: null,
};

export const settings = structuredClone(DEFAULTS);

export async function loadSettings() {
  Object.assign(settings, await getJson("/api/settings"));
  settings.keys = { ...DEFAULT_KEYS, ...settings.keys };
  applyLook();
}

export async function changeSettings(changes) {
  Object.assign(settings, changes);
  applyLook();
  await putJson("/api/settings", settings);
}

function applyLook() {
  const root = document.documentElement.dataset;
  root.theme = settings.theme;
  root.distance = settings.distance;
  root.still = String(settings.stillness);
}
