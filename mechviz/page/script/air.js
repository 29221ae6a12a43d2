/** The air: scenarios of pressures over time that drive the mechanism, with the reservoir's gauge and the power spring. */

import {Course} from "./course.js";
import {Dial} from "./dial.js";
import {airy, moved} from "./moved.js";
import {Strip, latest, nextPlace} from "./strip.js";
import {say} from "./svg.js";
import {TimePlot, seconds} from "./time_plots.js";

/** A scenario longer than this (s) is played so many times faster. */
const LONG = 120;
const FASTER = 160;
const FELT = 0.05;

/** A torque below this (N*mm) is none: the samples are no closer. */
const RUBS = 2e4;

const PRESSURES = [
  {column: "reservoir", words: "reservoir", kind: "plot-reservoir"},
  {column: "holdOff", words: "spring line", kind: "plot-spring"},
  {column: "service", words: "chamber", kind: "plot-air"},
];
const PUSHES = [
  {column: "serviceForce", words: "air", kind: "plot-air"},
  {column: "springForce", words: "spring", kind: "plot-spring"},
];

/** The mode of one player. */
export class Air {
  constructor(player, data, panel, signal) {
    Object.assign(this, {player, data, panel});
    const {root} = player;
    this.fitted = data.section !== null;
    this.courses = data.scenarios.map((one) => new Course(one));
    this.index = 0;
    this.time = 0;
    const find = (name) => panel.querySelector(`[data-role=air-${name}]`);
    Object.assign(this, {title: find("title"), words: find("words"), menu: find("menu")});
    this.menu.append(...data.scenarios.map((one, i) => new Option(one.title, String(i))));
    this.menu.addEventListener("change", () => this.choose(Number(this.menu.value)), {signal});
    for (const [name, way] of [["next", 1], ["previous", -1]]) player.on(`air-${name}`, "click", () => this.next(way), signal);
    this.compound = root.querySelector("[data-role=compound]");
    this.strip = new Strip(panel.querySelector("svg"));
    const slot = (name) => root.querySelector(`.plots .of-air-${name}`);
    this.dial = new Dial(slot("dial"), 1.2 * data.full, data.warning);
    const lines = (all) => (this.fitted ? all : all.filter(({column}) => !["holdOff", "springForce"].includes(column)));
    this.pressures = new TimePlot(slot("pressures"), "Pressures", "pressure", lines(PRESSURES));
    this.pushes = new TimePlot(slot("pushes"), "Pushes on the rod", "force", lines(PUSHES));
    this.section = player.section;
    this.settings = {pressure: data.full, ...data.at};
    this.asked = {stroke: 0, ...data.at};
  }

  get scenario() {
    return this.data.scenarios[this.index];
  }

  get course() {
    return this.courses[this.index];
  }

  /** What closes the parking valve by itself, MPa; 0 where there is nothing to close. */
  get closing() {
    return this.scenario.closing;
  }

  get place() {
    return this.time / this.course.end;
  }

  open() {
    this.lay();
  }

  close() {
    this.player.clock.halt();
    this.compound.hidden = true;
    this.section?.rest();
    this.player.clock.jump(0);
  }

  /** Draw axis, plots and gauge for the scenario. */
  lay() {
    const {course, scenario, data, player} = this;
    const {units} = player;
    const events = scenario.events;
    this.strip.lay(events.filter(({short}) => short), course.end, () => this.#ticks());
    this.menu.value = String(this.index);
    this.dial.rule(units);
    const warning = {at: data.warning, words: `warning ${units.text(data.warning, "pressure")}`};
    this.pressures.lay(course, 1.1 * data.full, warning, units);
    this.pushes.lay(course, 1.1 * data.full * player.facts.sizes.area, null, units);
    player.root.dataset.long = course.end > LONG ? "yes" : "no";
  }

  #ticks() {
    const {list, words} = seconds(this.course.end);
    return list.map(([at, number], i) => [at, i === 0 ? `0 ${words}` : number]);
  }

  another() {
    this.choose((this.index + 1) % this.courses.length);
  }

  choose(index) {
    this.player.clock.halt();
    this.index = index;
    this.time = 0;
    this.lay();
    this.#shown();
  }

  #shown() {
    this.player.clock.wake();
    this.player.shown();
  }

  jump(place) {
    this.player.clock.halt();
    this.time = Math.min(Math.max(place, 0), 1) * this.course.end;
    this.#shown();
  }

  next(way) {
    this.jump(nextPlace(this.scenario.events, this.time, this.course.end, way) / this.course.end);
  }

  press() {
    this.player.play();
  }

  /** Let time run from where it is; from the beginning at the end. */
  play() {
    const {clock} = this.player;
    if (clock.calm()) return this.next(1);
    const {end} = this.course;
    const from = this.time >= end ? 0 : this.time;
    const pace = end > LONG ? FASTER : 1;
    return clock.run((end - from) / pace, (share) => {
      this.time = share >= 1 ? end : from + share * (end - from);
    });
  }

  /** The brake at the present time. */
  state(into) {
    const {course, player} = this;
    course.seek(this.time);
    this.now = Object.fromEntries(Object.keys(course.columns).map((name) => [name, course.here(name)]));
    const {now} = this;
    this.asked.stroke = Math.max(now.stroke, 0);
    player.model.atStroke(this.asked, into);
    into.pressure = now.service;
    const moves = moved(into);
    into.chamberForce = moves ? now.pushrodForce : NaN;
    into.camshaftTorque = moves ? now.pushrodForce * into.lever : NaN;
    const presses = moves && into.stroke > into.contactStroke && now.brakeTorque > RUBS;
    into.brakeTorque = presses ? now.brakeTorque : NaN;
    if (!presses) for (const side of ["left", "right"]) into.rollerForce[side] = NaN;
    return into;
  }

  /** Whether the power spring pushes on the rod. */
  get sprung() {
    return this.now.springForce > 1;
  }

  /** Whether the rod goes back. */
  get back() {
    return this.course.falls("stroke");
  }

  get pressed() {
    return this.now.service > FELT * this.data.full;
  }

  /** What goes on. */
  phase(state) {
    const {now, data} = this;
    if (state.reason !== 0) return "stopped";
    if (!moved(state)) return airy(state) ? "fills" : "released";
    if (state.stroke < state.contactStroke) return "travels";
    if (!(state.brakeTorque > 0)) return "touches";
    const full = now.service > 0.99 * now.reservoir && now.reservoir > 0.999 * data.full;
    return full && !this.sprung ? "applied" : "presses";
  }

  /** What the picture says of it beside the state: who pushes, and what of the push is the spring's. */
  get told() {
    const {sprung, pressed, now, player} = this;
    if (!sprung) return {rod: pressed ? 1 : 0, judged: {pressure: now.service}};
    const back = this.back && !pressed;
    const by = pressed ? "Air and spring push the rod" : back ? "Air holds the spring off" : "The power spring pushes";
    const doing = pressed ? "Air and power spring push" : back ? "Air pushes the spring back" : "The power spring pushes";
    return {by, doing, rod: 1, verdict: "sprung", spring: player.units.text(now.springForce, "force")};
  }

  /** Write and draw what has come, with the frame that shows it. */
  show() {
    const {player, data, now} = this;
    const {events} = this.scenario;
    const [act, event] = [latest(events.filter(({done}) => done), this.time), latest(events, this.time)];
    const told = event === act ? [act] : [act, event];
    this.strip.stand(this.time);
    const state = this.dial.show(now.reservoir, this.closing, player.units);
    say(this.title, `Reservoir ${player.units.text(now.reservoir, "pressure")}: ${state.words}`);
    say(this.words, told.filter(Boolean).map(({words}) => `${words[0].toUpperCase()}${words.slice(1)}.`).join(" "));
    this.compound.hidden = !(this.sprung && this.pressed);
    this.section?.stand(now.springStroke, now.holdOff / data.full, this.sprung);
    this.pressures.show(this.time);
    this.pushes.show(this.time);
    player.root.dataset.air = state.name;
  }

  drawn() {}

  get phaseWords() {
    const {course, time} = this;
    const long = course.end > LONG;
    const {speed} = this.player.clock;
    const at = long ? `${Math.floor(time / 60)} min ${String(Math.floor(time % 60)).padStart(2, "0")} s` : `${time.toFixed(2)} s`;
    return long ? `${at}, played ${Math.round(FASTER * speed)} times faster` : at;
  }

  resize() {
    this.strip.draw();
    this.pressures.fit();
    this.pushes.fit();
    this.lay();
  }

  rule() {
    this.lay();
  }

  text() {
    return [`k=${this.scenario.name}`, `y=${Number(this.time.toFixed(3))}`];
  }

  read(given) {
    const index = this.data.scenarios.findIndex((one) => one.name === given.get("k"));
    this.index = Math.max(index, 0);
    const time = Number(given.get("y") ?? 0);
    this.time = time >= 0 && time <= this.course.end ? time : 0;
  }
}
