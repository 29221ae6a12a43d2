/** The keys of a lesson. They go before those of the page; all others are left to it. */

import {wanted} from "./keys.js";

/** What each key does, for the sheet that lists them. */
export const LESSON_KEYS = [
  ["→, Page down, Space", "the answer, then the next step (a clicker sends these)"],
  ["←, Page up", "take the answer back, the step before"],
  ["Home, End", "first step, last step"],
  ["M", "show the step's move again"],
  ["P", "press the brake and let it go by turns; stop"],
  [", .", "a step back and forward through the application"],
  ["B", "names on or off: a quiz"],
  ["Q", "some fault for the class to find; the next key names it"],
  ["X", "draw on the picture, or stop"],
  ["Z, Delete", "take the last line back, wipe all"],
  ["S", "speaker notes in a second window"],
  ["V, O, D, W, C, E", "the solid: show it, look from elsewhere, drum, wheel, cut, take apart"],
  ["1 2 3 4", "the page's own ways to look at the brake; R brings the step back"],
  ["U, T", "inches or millimetres, light or dark"],
  ["L", "large letters, for the last row: names in the picture and words"],
  ["F", "full screen"],
  ["Esc", "stop drawing, leave the fault, close this sheet"],
];

function table(lesson) {
  return {
    ArrowRight: () => lesson.next(),
    PageDown: () => lesson.next(),
    " ": () => lesson.next(),
    ArrowLeft: () => lesson.back(),
    PageUp: () => lesson.back(),
    Home: () => lesson.go(0),
    End: () => lesson.go(lesson.steps.length - 1),
    m: () => lesson.again(),
    r: () => lesson.go(lesson.at),
    b: () => lesson.labels(),
    q: () => lesson.guess(),
    x: () => lesson.draw(),
    z: () => lesson.pen.undo(),
    Delete: () => lesson.pen.clear(),
    Backspace: () => lesson.pen.clear(),
    s: () => lesson.speak(),
    u: () => lesson.units(),
    t: () => lesson.theme(),
    f: () => lesson.fullScreen(),
    "?": () => lesson.help(),
    Escape: () => lesson.leave(),
    l: () => lesson.large(),
  };
}

/** Listen to a document's (or an element's) keys before the page does. */
export function listenToLesson(target, lesson, signal) {
  const keys = table(lesson);
  const heard = (event) => {
    const [from] = event.composedPath();
    if (lesson.box.helping) {
      event.stopPropagation();
      return;
    }
    if (event.altKey || event.ctrlKey || event.metaKey || event.isComposing) return;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    const act = keys[key];
    if (!act || wanted(from, key)) return;
    event.preventDefault();
    event.stopPropagation();
    if (!event.repeat) act();
  };
  target.addEventListener("keydown", heard, {signal, capture: true});
}
