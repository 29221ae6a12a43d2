/** Every key. What a slider, a field or a menu wants for itself is left to it. */

/** Build the table from key to what it does. */
function table(player) {
  const {teller, clock} = player;
  const turn = (step) => (teller.telling ? (step > 0 ? teller.next() : teller.previous()) : player.scrub(0.02 * step));
  return {
    " ": () => player.press(),
    p: () => player.play(),
    ".": () => player.scrub(0.02),
    ",": () => player.scrub(-0.02),
    ArrowRight: () => turn(1),
    ArrowLeft: () => turn(-1),
    PageDown: () => turn(1),
    PageUp: () => turn(-1),
    Home: () => !teller.telling && clock.jump(0),
    End: () => !teller.telling && clock.jump(1),
    "+": () => player.faster(1),
    "=": () => player.faster(1),
    "-": () => player.faster(-1),
    s: () => player.story(),
    f: () => player.fullScreen(),
    l: () => player.large(),
    u: () => player.switchUnits(),
    t: () => player.switchTheme(),
    b: () => player.labels(),
    r: () => player.reset(),
    "?": () => player.help(),
    Escape: () => teller.end(),
  };
}

const OWN = {
  range: ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home", "End", "PageUp", "PageDown"],
  checkbox: [" "],
  button: [" "],
  select: [" ", "ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown"],
};

/** Whether the element that has the focus wants a key for itself. */
function wanted(target, key) {
  const name = target?.localName;
  if (name === "input" && target.type === "text") return true;
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
    if (!act || wanted(from, key) || (key.startsWith("Page") && !player.teller.telling)) return;
    event.preventDefault();
    if (!event.repeat || key.startsWith("Arrow") || key === "." || key === ",") act();
  };
  target.addEventListener("keydown", heard, {signal});
}

function undoing(event, key, player, from) {
  if (from?.type === "text" || player.teller.telling) return;
  const back = key === "z" && !event.shiftKey;
  const again = key === "y" || (key === "z" && event.shiftKey);
  if (!back && !again) return;
  event.preventDefault();
  player.travelBack(back);
}
