/** Everything that is drawn, put together: the picture with its notes, the plots, and what each frame shows in them. */

import {Chain} from "./chain.js";
import {FigureList} from "./figures.js";
import {GapDiagram, Magnifier} from "./gaps.js";
import {Gauge} from "./gauge.js";
import {ArmAngle, StrokeRule, Turn} from "./notes.js";
import {Picture} from "./picture.js";
import {Place} from "./place.js";
import {AnglePlot, ForcePlot, WearPlot} from "./plots.js";
import {moved} from "./moved.js";
import {Air, Pushes} from "./pushes.js";
import {narrow} from "./room.js";
import {draw, put, say, take, write} from "./svg.js";
import {touches} from "./touch.js";
import {judged, limitName} from "./verdict.js";

/** Give the parts their forms: those of `shapes` by the part's name, all others their own. */
function reshape(svg, shapes = {}) {
  const changed = (svg.changed ??= new Map());
  for (const name of Object.keys(shapes)) {
    const node = svg.querySelector(`#part-${name} path`);
    if (node && !changed.has(name)) changed.set(name, {node, own: node.getAttribute("d")});
  }
  for (const [name, {node, own}] of changed) put(node, "d", shapes[name] ?? own);
}

/** Where the mechanism stands alone: what is left off above it, and the room to its right, picture units. */
const TOP = 12;
const EDGE = 14;

/** A plot on paper, pixels: with them its letters are as large as those of the text. */
const PAPER = {width: 440, height: 166};

/** The drawing and the plots of one page. */
export class Scene {
  constructor(root, model, data) {
    const {facts, motion, shapes} = data;
    this.root = root;
    this.model = model;
    this.facts = facts;
    this.svg = root.querySelector(".picture svg");
    reshape(this.svg, shapes);
    this.picture = new Picture(this.svg, model, facts, motion);
    this.none = model.blank();
    this.none.reason = -1;
    this.mode = "brake";
    this.printing = false;
    for (const node of this.svg.querySelectorAll(".outside, .air-service, .heat")) node.remove();
    this.#notes();
    this.#plots();
  }

  /** The group of a note, emptied of what a still picture has in it. */
  #layer(name) {
    const group = this.svg.querySelector(`#note-${name}`) ?? draw(this.svg, "g", {id: `note-${name}`});
    group.replaceChildren();
    return group;
  }

  #notes() {
    const {facts, model} = this;
    const place = new Place(facts.layout);
    this.magnifier = new Magnifier(this.#layer("magnifier"), place, facts, this.#widest());
    this.turn = new Turn(this.#layer("cam"), this.svg, place, facts, model.constants.armDirection);
    this.rule = new StrokeRule(this.#layer("stroke"), place, facts);
    this.pushes = new Pushes(this.#layer("push"), place, facts);
    this.angle = new ArmAngle(this.#layer("angle"), place, facts);
    this.gauge = new Gauge(this.#layer("verdict"), facts);
    this.chain = new Chain(this.#layer("chain"), facts, this.root.querySelector("[data-role=links]"));
    this.gaps = new GapDiagram(this.#layer("gap"), place, facts, model.positions.length);
    this.drumName = this.svg.querySelector("#value-drum");
    const plane = this.svg.querySelector("#plane-arm");
    this.air = new Air(plane, facts, plane.querySelector(":scope > g[id^='part-']"));
    this.diaphragm = this.svg.querySelector("#deform-diaphragm");
    this.#closed(plane, place);
    this.list = new FigureList(this.root.querySelector("[data-role=figures]"), facts);
  }

  /** What is seen from outside: the chamber closed, and nothing behind the wheel. */
  #closed(plane, place) {
    const points = this.facts.chamberHull.map(([x, y]) => `${x} ${y}`).join("L");
    const chamber = draw(plane, "path", {class: "outside mv-hold", d: `M${points}Z`});
    plane.insertBefore(chamber, plane.querySelector("#part-clamp-ring"));
    const words = {"text-anchor": "middle", class: "mv-figure outside"};
    write(this.#layer("outside"), "hidden by the wheel", place.wheel[0], place.drumY, words);
  }

  #plots() {
    const svgs = this.root.querySelectorAll(".plots svg");
    this.wear = new WearPlot(svgs[0], this.model, this.facts);
    this.arm = new AnglePlot(svgs[1], this.model, this.facts);
    this.force = new ForcePlot(svgs[2], this.model, this.facts);
    this.plots = [this.wear, this.arm, this.force];
  }

  /** About the greatest gap (mm) at the middle of a lining that any setting gives. */
  #widest() {
    const {model} = this;
    const {lining, temperature} = model.found;
    const [setting] = model.settingRange({lining, temperature});
    const gap = model.atStroke({stroke: 0, lining, temperature, setting}).gaps.right.middle;
    return Number.isFinite(gap) ? Math.max(gap, 0.5) : 3;
  }

  /** Take the part of the picture that there is room for. */
  frame() {
    const column = !this.printing && narrow(this.root);
    const x = this.facts.layout.edge + EDGE;
    put(this.svg, "viewBox", column ? `0 ${TOP} ${x} ${this.facts.layout.height - TOP}` : `0 0 ${this.facts.layout.width} ${this.facts.layout.height}`);
  }

  /** Set the names of the parts where there is room for their letters, which are larger where the picture is small. */
  #named() {
    const group = this.svg.querySelector("#note-labels");
    const {between, plain, large} = this.facts.names;
    const text = group.querySelector("text");
    const names = text && parseFloat(getComputedStyle(text).fontSize) > between ? large : plain;
    if (group.names === names) return;
    group.names = names;
    group.innerHTML = names;
    this.drumName = this.svg.querySelector("#value-drum");
    this.turn.value = this.svg.querySelector("#value-cam-turn");
    this.name(this.only);
  }

  /** Write these names only; null writes all. */
  name(words) {
    this.only = words;
    for (const node of this.svg.querySelectorAll("#note-labels [data-named]")) take(node, !words || words.includes(node.dataset.named));
  }

  /** Take the sizes that the page gives picture and plots. */
  resize(units) {
    this.frame();
    this.#named();
    this.lettered();
    for (const plot of this.plots) {
      const {width, height} = this.printing ? PAPER : plot.svg.getBoundingClientRect();
      if (width > 0 && height > 0) plot.resize(width, height);
      else plot.resize(320, 200);
    }
    this.units(units);
  }

  /** Write everything that only a change of units changes. */
  units(units) {
    this.rule.rule(units);
    for (const plot of this.plots) plot.rule(units);
    this.solved = null;
  }

  /** The letters have another width than before. */
  lettered() {
    this.gauge.lettered();
    this.gaps.lettered();
    this.angle.lettered();
  }

  /** Work out what changes with the settings only. */
  settle(travel, units) {
    const {settings, rest} = travel;
    const {curves} = this;
    const key = `${settings.pressure} ${settings.setting} ${settings.temperature} ${units.system}`;
    if (key !== this.solved && curves.length) {
      this.solved = key;
      if (curves.includes(this.wear)) this.wear.solve(settings, units);
      this.force.solve(settings);
      this.force.tell(`at ${units.text(settings.pressure, "pressure")}`);
    }
    this.rule.settle(travel, units);
    this.gauge.settle(travel, units);
    this.limit = limitName(settings, this.facts, units);
    for (const plot of [this.wear, this.force]) plot.bound(this.limit);
    if (this.drumName) say(this.drumName, units.text(settings.temperature, "temperature"));
    const {gapProfile} = travel.held ?? rest;
    const greatest = Math.max(...gapProfile.left, ...gapProfile.right);
    this.gaps.rule(Number.isFinite(greatest) ? greatest : 1);
  }

  /** The plots that are seen: a mode has others in the place of some. */
  get curves() {
    if (this.mode === "air") return [];
    return this.mode === "brake" ? this.plots : [this.arm, this.force];
  }

  /**
   * Show one state. `phase` says what is going on; `stopped` is the last pose before a state that cannot exist. `more` is
   * what is told beside it: whether it goes `back`, who pushes (`by`, `doing`, `spring`, `rod`, or a `hand` at the arm) and how it is judged
   * (`verdict`, `judged`).
   */
  show(state, travel, phase, units, more = {}) {
    const {settings} = travel;
    const stopped = phase === "stopped";
    const told = stopped ? this.none : state;
    const applied = phase === "applied" && travel.touches && !state.held;
    const bottomed = stopped && travel.reason === this.model.reasons.BOTTOMED.code;
    const verdict = more.verdict ?? judged(told, this.facts, {applied, settings: {...settings, ...more.judged}, bottomed});
    this.picture.show(state, settings);
    if (state.reason === 0) this.#mechanism(state, travel, phase, units, more);
    this.#figures(told, {...more, settings, verdict, applied: phase === "applied", phase}, units);
    return verdict;
  }

  #mechanism(state, travel, phase, units, {rod, back, hand}) {
    const {settings} = travel;
    const touching = touches(state.gaps.left) || touches(state.gaps.right);
    const share = hand ? 0 : settings.pressure > 0 ? Math.min((state.pressure || 0) / settings.pressure, 1) : 0;
    this.rule.show(state);
    this.angle.show(state, units);
    this.turn.show(state);
    this.pushes.show(state, phase, {share, touching, back, rod});
    this.gaps.show(state, units);
    this.magnifier.show(state, units);
    this.air.show(this.diaphragm.getAttribute("d"), hand ? 0 : (state.pressure || 0) / this.model.box.pressure[1]);
  }

  #figures(told, {settings, verdict, applied, phase, ...own}, units) {
    const share = moved(told) ? this.model.thrust.seek(told.stroke).share : NaN;
    const left = this.model.limits.ratedStroke - told.stroke;
    const more = {...own, share, left, settings, verdict, applied, phase, limit: this.limit};
    this.gauge.show(told, units, verdict, phase, own);
    this.turn.tell(told, units);
    this.chain.show(told, units, more);
    this.list.show(told, units, more);
    for (const plot of this.curves) plot.show(told, settings, verdict);
  }

  /** Whether everything inside the wheel is hidden, as it is from outside. */
  outside(hidden) {
    put(this.root, "data-outside", hidden ? "yes" : "no");
  }
}
