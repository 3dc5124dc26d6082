/** Joins the parts: which screen is shown, the program's messages, the sound. */

import { Feed } from "./feed.js";
import { SoundSource } from "./sound-source.js";
import { loadSettings } from "./settings-store.js";
import { SetupScreen } from "./screens/setup.js";
import { PlayScreen } from "./screens/play.js";
import { AfterScreen } from "./screens/after.js";
import { SettingsScreen } from "./screens/settings.js";
import { LibraryScreen } from "./screens/library.js";
import { PassageScreen } from "./screens/passage.js";
import { ImportScreen } from "./screens/import.js";
import { TypedScreen } from "./screens/typed.js";
import { acceptFiles } from "./file-drop.js";
import { fillCautions } from "./caution.js";

const SCREENS = { practise: "setup", library: "library", passage: "passage", import: "import", typed: "typed", done: "after", settings: "settings", playing: "play" };

const notice = document.getElementById("notice");
let noticeTimer = 0;

const app = {
  feed: new Feed(),
  sound: new SoundSource(),
  view: null,
  screen: "",

  /** Shows a sentence at the top of the page; "" takes it away. */
  tell(sentence) {
    notice.textContent = sentence;
    notice.hidden = !sentence;
  },

  /** The same for some seconds: nobody has a hand free to take it away. */
  tellForAWhile(sentence) {
    this.tell(sentence);
    clearTimeout(noticeTimer);
    noticeTimer = setTimeout(() => {
      if (notice.textContent === sentence) {
        this.tell("");
      }
    }, 12000);
  },

  /** Shows a screen; "of" says what it is about, where it shows one of many. */
  go(name, of = "") {
    const hash = `#${Object.keys(SCREENS).find(key => SCREENS[key] === name)}${of ? `=${of}` : ""}`;
    if (location.hash === hash) {
      show();
    } else {
      location.hash = hash;
    }
  },
};

const screens = {
  setup: new SetupScreen(app),
  play: new PlayScreen(app),
  after: new AfterScreen(app),
  settings: new SettingsScreen(app),
  library: new LibraryScreen(app),
  passage: new PassageScreen(app),
  import: new ImportScreen(app),
  typed: new TypedScreen(app),
};
const WITHIN = { play: "setup", passage: "library", import: "library", typed: "library" };

function show() {
  const [key, of = ""] = location.hash.slice(1).split("=");
  const name = SCREENS[key] ?? "setup";
  if (name === "play" && !app.view) {
    app.go("setup");
    return;
  }
  if (app.screen !== name) {
    screens[app.screen]?.leave?.();
  }
  app.screen = name;
  for (const section of document.querySelectorAll(".screen")) {
    section.hidden = section.id !== `screen-${name}`;
  }
  for (const link of document.querySelectorAll("[data-screen-link]")) {
    const here = link.dataset.screenLink === (WITHIN[name] ?? name);
    link.toggleAttribute("aria-current", here);
    if (here) {
      link.setAttribute("aria-current", "page");
    }
  }
  screens[name].enter(of);
}

app.feed
  .on("view", told => {
    app.view = told.view;
    screens.play.update(told.view, told.effects ?? []);
  })
  .on("verdict", told => {
    app.view = told.view;
    screens.play.verdict(told.view, told.effects);
  })
  .on("live", told => screens.play.live(told))
  .on("notice", told => app.tell(told.text))
  .on("sound-lost", told => app.tellForAWhile(told.text))
  .on("no-session", () => {
    app.view = null;
    if (app.screen === "play") {
      app.go("setup");
    }
  });
app.feed.addEventListener("lost", () => app.tell("The program does not answer. If it was stopped, start earcoach again: nothing that was shown is lost."));
app.feed.addEventListener("connected", () => app.tell(""));
app.sound.addEventListener("lost", event => app.tell(event.detail));
app.sound.addEventListener("recording-ended", () => app.feed.send({ type: "recording-ended" }));

acceptFiles(() => app.screen !== "play", files => screens.import.take(files));
fillCautions();
await loadSettings();
app.feed.open();
await new Promise(resolve => {
  // The first message says whether practice is under way: a page that was reloaded goes straight on.
  app.feed.addEventListener("view", resolve, { once: true });
  app.feed.addEventListener("no-session", resolve, { once: true });
});
if (app.view && app.view.drill.phase !== "done" && sessionStorage.getItem("listening") === "microphone") {
  app.go("play");
  screens.play.goOn();
} else if (location.hash === "#playing") {
  app.go("setup");
}
window.addEventListener("hashchange", show);
show();
document.documentElement.dataset.ready = "true";
