/** The defects: each one's brake as the solver has it, its part lit, its name, what it does, what an inspector sees. */

import {Comparison} from "./comparison.js";
import {say} from "./svg.js";

/** What is shown where no defect is. */
const SOUND = {
  title: "The brake as found",
  inside: "No defect is added. Choose one, or let one be chosen and find it.",
  outside: "",
};
const HIDDEN = {
  title: "Which defect is it?",
  inside: "Press and release the brake. Compare stroke, arm, gap and torque with the brake as found.",
  outside: "",
};
/** The same in a lesson, which does not show the figures of the brake as found beside it. */
const ASKED = {...HIDDEN, inside: "Press and release the brake. Look at stroke, arm, gap and torque."};

/** The page's data of a brake with a defect: those of the sound one but for what the patch changes. */
export function patched(sound, {table, motion, facts, section, shapes = {}, solid = null}) {
  const part = (name) => Object.fromEntries(Object.entries(sound.motion[name]).map(([shape, frames]) => [shape, {...frames, ...motion?.[name]?.[shape]}]));
  return {
    table: {...sound.table, ...table},
    motion: {roll: motion?.roll ?? sound.motion.roll, byStroke: part("byStroke"), byCam: part("byCam")},
    facts: {...sound.facts, ...facts},
    section: section ?? sound.section,
    shapes,
    solid,
  };
}

/** A defect that this brake cannot have: listed, and not to be chosen. */
function without({title, why}) {
  const option = new Option(`${title}: ${why}`, "");
  option.disabled = true;
  return option;
}

/** The mode of one player. */
export class Faults {
  constructor(player, data, panel, signal) {
    Object.assign(this, {player, data, panel});
    this.fault = null;
    this.hidden = false;
    const find = (name) => panel.querySelector(`[data-role=fault-${name}]`);
    Object.assign(this, {title: find("title"), inside: find("inside"), outside: find("outside"), menu: find("menu"), name: find("name")});
    this.menu.append(new Option("none: as found", ""), ...data.list.map((one) => new Option(one.title, one.name)));
    this.menu.append(...data.without.map(without));
    this.menu.addEventListener("change", () => this.choose(this.menu.value), {signal});
    this.table = new Comparison(player.root.querySelector(".plots .of-faults table"), data);
    const acts = {next: () => this.next(1), previous: () => this.next(-1), quiz: () => this.quiz(), name: () => this.reveal(), sound: () => this.reset()};
    for (const [name, act] of Object.entries(acts)) player.on(`fault-${name}`, "click", act, signal);
  }

  open() {
    this.player.clock.jump(0);
    this.#fit();
  }

  close() {
    this.player.clock.halt();
    this.fault = null;
    this.hidden = false;
    this.#light();
    delete this.player.root.dataset.fault;
    this.player.fit(this.player.sound);
  }

  /** Look at the defect of a name; at the brake as found for none. */
  choose(name, hidden = false) {
    this.fault = this.data.list.find((one) => one.name === name) ?? null;
    this.hidden = hidden && this.fault !== null;
    this.#fit();
    this.player.shown();
  }

  #fit() {
    const {player, fault} = this;
    player.fit(fault ? patched(player.sound, fault.patch) : player.sound);
    const {pressure, lining, temperature, setting} = player.model.found;
    this.found = {pressure, lining, temperature, setting};
    const {temperature: warm} = this.found;
    const tight = fault?.blocked ? player.model.settingForFreeStroke({freeStroke: 0, lining, temperature: warm}) : NaN;
    this.settings = Number.isFinite(tight) ? {...this.found, setting: tight} : this.found;
    this.still = fault?.blocked ? player.model.atStroke({stroke: 0, ...this.found}) : null;
    this.resting = fault?.play > 0 ? player.model.atStroke({stroke: fault.play, ...this.found}) : null;
    player.scene.arm.start(fault?.play ?? 0);
    player.root.dataset.fault = fault && !this.hidden ? fault.name : "";
    this.#light();
    this.write();
  }

  /** Light the defect's part, and no other one. */
  #light() {
    const {root} = this.player;
    for (const node of root.querySelectorAll(".part.lit")) node.classList.remove("lit");
    if (!this.fault || this.hidden) return;
    const lit = [this.fault.part, this.fault.part === "diaphragm" ? "chamber-pressure" : null];
    root.querySelector("#deform-shoe-return-spring").setAttribute("pathLength", "100");
    for (const name of lit) root.querySelector(`#part-${name}`)?.classList.add("lit");
  }

  /** Write the words, in the units shown. */
  write() {
    const {fault, hidden, player} = this;
    const told = hidden ? (player.root.dataset.lesson ? ASKED : HIDDEN) : (fault ?? SOUND);
    say(this.title, told.title);
    say(this.inside, told === fault ? `Inside: ${fault.inside}` : told.inside);
    say(this.outside, told === fault ? `Outside: ${fault.outside}` : "");
    this.menu.value = hidden ? "" : (fault?.name ?? "");
    this.menu.options[0].text = hidden ? "hidden" : "none: as found";
    this.name.hidden = !hidden;
    this.table.show(fault, player.units);
  }

  /** The next defect of the list, or the one before; beyond its ends the brake as found. */
  next(way) {
    const {list} = this.data;
    const at = this.fault ? list.indexOf(this.fault) : way > 0 ? -1 : list.length;
    this.choose(list[at + way]?.name ?? "");
  }

  /** Show some defect without its name. */
  quiz() {
    const others = this.data.list.filter((one) => one !== this.fault);
    this.player.clock.jump(1);
    this.choose(others[Math.floor(Math.random() * others.length)].name, true);
  }

  /** Name what is shown. */
  reveal() {
    if (!this.hidden) return;
    this.choose(this.fault.name);
    say(this.player.spoken, `It is: ${this.fault.title}.`);
  }

  /** Back to the brake as found. */
  reset() {
    this.choose("");
  }

  /** Put right in a state what a defect holds still: the wheel's parts behind a frozen anchor, a shoe kept on the drum. */
  pose(state) {
    if (state.reason !== 0 || !this.fault) return;
    state.held = this.still !== null;
    state.kept = this.fault.kept ? this.#kept() : null;
    state.slack = false;
    if (this.resting) this.#loose(state);
    if (state.held) this.#hold(state);
    else if (state.kept) this.player.model.keep(state, "right");
  }

  #kept() {
    return this.fault.broken && !this.hidden ? "No spring pulls the shoes in" : "One shoe stays on the drum";
  }

  /** The rod takes up the play of worn joints first: until then arm, cam and shoes stand where the springs hold them. */
  #loose(state) {
    const {resting} = this;
    const {armTurn} = resting;
    state.slack = state.stroke < resting.stroke;
    if (state.slack) {
      Object.assign(state, {armTurn, armAngle: resting.armAngle, tilt: resting.tilt, pin: {...resting.pin}});
      this.#stand(state, resting);
    }
    state.armTurn -= armTurn;
    state.camTurn -= armTurn;
  }

  #hold(state) {
    this.#stand(state, this.still);
    state.camTurn = 0;
    for (const side of ["left", "right"]) state.rollerForce[side] = NaN;
    state.brakeTorque = 0;
  }

  /** Put cam and shoes where another state has them. */
  #stand(state, still) {
    state.camAngle = still.camAngle;
    state.camTurn = still.camTurn;
    for (const side of ["left", "right"]) {
      state.shoeTurn[side] = still.shoeTurn[side];
      Object.assign(state.roller[side], still.roller[side]);
      Object.assign(state.gaps[side], still.gaps[side]);
      state.gapProfile[side].set(still.gapProfile[side]);
    }
  }

  /** What goes on, in a phase of the application. */
  phase(phase) {
    const works = ["travels", "touches", "presses"].includes(phase);
    if (works && this.player.state.slack) return "slack";
    return this.still && works ? "strains" : phase;
  }

  resize() {
    this.write();
  }

  rule() {
    this.write();
  }

  text() {
    return this.fault && !this.hidden ? [`k=${this.fault.name}`] : [];
  }

  read(given) {
    this.fault = this.data.list.find((one) => one.name === given.get("k")) ?? null;
    this.hidden = false;
  }
}
