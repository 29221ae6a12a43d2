/** Every key. What a slider, a field or a menu wants for itself is left to it. */

import {MODES} from "./modes.js";

/** Build the table from key to what it does. */
function table(player) {
  const {teller} = player;
  const tell = (step) => (step > 0 ? teller.next() : teller.previous());
  const turn = (step) => (teller.telling ? tell(step) : player.scrub(0.02 * step));
  const page = (step) => (teller.telling ? tell(step) : player.modes.now?.next(step));
  const modes = Object.fromEntries(MODES.map((name, i) => [String(i + 1), () => player.modes.open(name)]));
  const mode = (act) => () => player.modes.now?.[act]?.();
  return {
    " ": () => player.press(),
    p: () => player.play(),
    ".": () => player.scrub(0.02),
    ",": () => player.scrub(-0.02),
    ArrowRight: () => turn(1),
    ArrowLeft: () => turn(-1),
    PageDown: () => page(1),
    PageUp: () => page(-1),
    Home: () => !teller.telling && player.jump(0),
    End: () => !teller.telling && player.jump(1),
    ...modes,
    a: mode("another"),
    h: mode("heat"),
    q: mode("quiz"),
    n: mode("reveal"),
    "+": () => player.faster(1),
    "=": () => player.faster(1),
    "-": () => player.faster(-1),
    s: () => player.story(),
    f: () => player.fullScreen(),
    l: () => player.large(),
    u: () => player.switchUnits(),
    t: () => player.switchTheme(),
    b: () => player.labels(),
    v: () => player.solid.next(),
    o: () => player.solid.around(),
    d: () => player.solid.drum(),
    w: () => player.solid.wheel(),
    c: () => player.solid.cut(),
    e: () => player.solid.apart(),
    j: () => player.solid.nextPart(-1),
    k: () => player.solid.nextPart(1),
    r: () => player.reset(),
    "?": () => player.help(),
    Escape: () => player.solid.letGo() || teller.end(),
  };
}

const TYPED = ["text", "search", "number"];

const OWN = {
  range: ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home", "End", "PageUp", "PageDown"],
  checkbox: [" "],
  button: [" "],
  canvas: ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "+", "=", "-"],
  select: [" ", "ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown"],
};

/** Whether the element that has the focus wants a key for itself. */
export function wanted(target, key) {
  const name = target?.localName;
  if (name === "textarea" || target?.isContentEditable || (name === "input" && TYPED.includes(target.type))) return true;
  const kind = name === "input" ? target.type : name;
  return OWN[kind]?.includes(key) ?? false;
}

/** Listen to the keys of a page. */
export function listen(target, player, signal) {
  const keys = table(player);
  const heard = (event) => {
    const [from] = event.composedPath();
    if (player.helping || event.altKey || event.isComposing) return;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    if (event.ctrlKey || event.metaKey) {
      undoing(event, key, player, from);
      return;
    }
    const act = keys[key];
    if (!act || wanted(from, key) || (key.startsWith("Page") && !player.teller.telling && !player.modes.now)) return;
    event.preventDefault();
    if (!event.repeat || key.startsWith("Arrow") || key === "." || key === ",") act();
  };
  target.addEventListener("keydown", heard, {signal});
}

function undoing(event, key, player, from) {
  if (TYPED.includes(from?.type) || player.teller.telling) return;
  const back = key === "z" && !event.shiftKey;
  const again = key === "y" || (key === "z" && event.shiftKey);
  if (!back && !again) return;
  event.preventDefault();
  player.travelBack(back);
}
