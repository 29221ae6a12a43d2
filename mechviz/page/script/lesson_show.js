/** How a step drives the page: where it stands, what is lit and named, and what moves. */

/** What a setting, the wear or the parts take to walk, seconds. */
const WALK = 4.5;
const APART = 2.5;

/** A scenario of the air longer than this (s) is played so many times faster, as the page does. */
const LONG = 120;
const FASTER = 160;

const SHORT = {pressure: "p", lining: "w", temperature: "t", setting: "a"};
const HALVINGS = 40;

/** Whether the reader's system asks for no motion. */
export function calm(player) {
  return player.clock.calm();
}

/**
 * Stand where a step begins; `shown` tells that its answer is known. While a question stands, what would answer it is not
 * seen: plots, the mode's panel, verdict and forces; what the class reads off the brake stays.
 */
export function begin(player, step, shown) {
  player.clock.halt();
  player.solid.letGo();
  player.hand = step.by === "hand";
  player.view.read(address(player, step, shown || !step.words[player.units.system].question));
  player.scene.outside(step.view === "outside");
  player.root.dataset.asked = !shown && step.words[player.units.system].question ? "yes" : "no";
  player.root.dataset.plot = step.plot;
  player.root.dataset.still = step.motion?.kind === "travel" ? "no" : "yes";
  player.point(step.lit.flatMap((one) => one.parts));
  player.name(step.named);
  if (step.page === "faults") fault(player, step, shown);
  if (step.page === "plain" || step.page === "faults") player.jump(place(player, step.place));
  player.view.resized();
}

/** A step's state as the page's address has it. */
function address(player, step, named) {
  const given = new URLSearchParams(step.solid ?? {});
  for (const [name, short] of Object.entries(SHORT)) given.set(short, step.settings[name]);
  const {where} = step;
  if (step.page === "life") set(given, {m: "life", k: where.which, y: where.wear, h: where.hot ? 1 : 0});
  if (step.page === "faults") set(given, {m: "faults"});
  if (step.page === "air") set(given, {m: "air", k: where.scenario, y: where.time});
  if (!step.labels && !named) given.set("b", 0);
  given.set("u", player.units.system);
  return given.toString();
}

function set(given, values) {
  for (const [name, value] of Object.entries(values)) given.set(name, value);
}

/** The defect of a step: one that is asked for is not named before the answer. */
function fault(player, step, shown) {
  const mode = player.modes.now;
  const asks = Boolean(step.words[player.units.system].question);
  if (step.random) {
    step.chosen ??= some(mode.data.list).name;
    mode.choose(step.chosen, !shown);
  } else mode.choose(step.where.fault ?? "", asks && !shown);
}

function some(list) {
  return list[Math.floor(Math.random() * list.length)];
}

/** Show and name what a step has hidden. */
export function reveal(player, step) {
  player.root.dataset.asked = "no";
  if (step.page === "faults") player.modes.now.reveal?.();
  if (!step.labels && player.root.dataset.names !== "yes") player.labels();
}

/** Where in the application a place is, from 0 to 1. */
function place(player, {x, contact, stroke}) {
  if (x !== undefined) return x;
  const {travel, modes, settings} = player;
  travel.set({...(modes.now?.settings ?? settings.now)});
  if (contact) return travel.touchPlace;
  let [low, high] = [0, 1];
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = 0.5 * (low + high);
    if (travel.stroke(middle) < stroke) low = middle;
    else high = middle;
  }
  return high;
}

/** Let a step's move happen; `atOnce` stands at its end. */
export function play(player, step, atOnce = false) {
  const {motion} = step;
  if (!motion) return;
  const {clock} = player;
  const skip = atOnce || clock.calm();
  if (motion.kind === "travel") {
    const [from, to] = [motion.from, motion.to].map((one) => place(player, one));
    clock.jump(skip ? to : from);
    if (!skip) clock.go(to);
    return;
  }
  if (motion.kind === "time") {
    const mode = player.modes.now;
    const pace = mode.course.end > LONG ? FASTER : 1;
    const stand = (share) => {
      mode.time = motion.from + share * (motion.to - motion.from);
    };
    clock.halt();
    if (skip) stand(1);
    else clock.run((motion.to - motion.from) / pace, stand);
    clock.wake();
    return;
  }
  const step1 = WALKS[motion.kind](player, motion);
  clock.halt();
  if (skip) step1(1);
  else clock.stroll(motion.kind === "apart" ? APART : WALK, step1);
  clock.wake();
}

/** What a share of the way does, by what walks. */
const WALKS = {
  walk: (player, {from, to}) => (share) => {
    player.settings.change(Object.fromEntries(Object.keys(to).map((name) => [name, share >= 1 ? to[name] : from[name] + share * (to[name] - from[name])])));
    player.changed();
  },
  wear: (player, {from, to}) => (share) => {
    player.modes.now.wear = share >= 1 ? to : from + share * (to - from);
    player.changed();
  },
  apart: (player, {from, to}) => (share) => player.solid.set({apart: from + share * (to - from)}),
};
