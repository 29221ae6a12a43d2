/** Everything that is drawn, put together: the picture with its notes, the plots, and what each frame shows in them. */

import {FigureList, Figures} from "./figures.js";
import {GapPlot, Magnifier} from "./gaps.js";
import {Gauge, judged, unjudged, VERDICTS} from "./gauge.js";
import {ArmAngle, CamTurn, StrokeRule, partNames, shaftLine} from "./notes.js";
import {Picture} from "./picture.js";
import {Place} from "./place.js";
import {AnglePlot, ForcePlot, WearPlot} from "./plots.js";
import {Air, Pushes} from "./pushes.js";
import {draw, put, say, write} from "./svg.js";

/** The drawing and the plots of one page. */
export class Scene {
  constructor(root, model, data) {
    const {facts, motion} = data;
    this.root = root;
    this.model = model;
    this.facts = facts;
    this.svg = root.querySelector(".picture svg");
    this.picture = new Picture(this.svg, model, facts, motion);
    this.none = model.blank();
    this.none.reason = -1;
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
    shaftLine(this.#layer("shaft"), place);
    this.drumName = partNames(this.#layer("labels"), place, facts);
    this.magnifier = new Magnifier(this.#layer("magnifier"), facts.layout.magnifier, place, facts.sizes, this.#widest());
    this.cam = new CamTurn(this.#layer("cam"), place, facts);
    this.rule = new StrokeRule(this.#layer("stroke"), place, facts, this.#pinReleased());
    this.pushes = new Pushes(this.#layer("push"), place, facts);
    this.angle = new ArmAngle(this.#layer("angle"), place, facts);
    this.gauge = new Gauge(this.#layer("verdict"), facts.layout.title, facts);
    this.figures = new Figures(this.#layer("figures"), facts.layout.figures);
    this.gaps = new GapPlot(this.#layer("gap"), facts.layout.gaps, model.positions.length);
    const plane = this.svg.querySelector("#plane-arm");
    this.air = new Air(plane, facts, plane.querySelector(":scope > g[id^='part-']"));
    this.diaphragm = this.svg.querySelector("#deform-diaphragm");
    this.#closed(plane, place);
    this.list = new FigureList(this.root.querySelector("[data-role=figures]"));
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

  /** The clevis pin's place (mm) when released. */
  #pinReleased() {
    const {armLength, armDirection} = this.model.constants;
    return armLength * Math.cos(armDirection);
  }

  /** About the greatest gap (mm) at the middle of a lining that any setting gives. */
  #widest() {
    const {model} = this;
    const {lining, temperature} = model.found;
    const [setting] = model.settingRange({lining, temperature});
    const gap = model.atStroke({stroke: 0, lining, temperature, setting}).gaps.right.middle;
    return Number.isFinite(gap) ? Math.max(gap, 0.5) : 3;
  }

  /** Take the sizes that the page gives the plots. */
  resize(units) {
    const narrow = matchMedia("screen and (max-width: 1000px)").matches;
    const [x] = this.facts.layout.figures;
    put(this.svg, "viewBox", narrow ? `0 30 ${x} ${this.facts.layout.height - 30}` : `0 0 ${this.facts.layout.width} ${this.facts.layout.height}`);
    for (const plot of this.plots) {
      const {width, height} = plot.svg.getBoundingClientRect();
      if (width > 0 && height > 0) plot.resize(width, height);
      else plot.resize(320, 200);
    }
    this.units(units);
  }

  /** Write everything that only a change of units changes. */
  units(units) {
    this.rule.rule(units);
    this.gauge.rule(units);
    for (const plot of this.plots) plot.rule(units);
    this.solved = null;
  }

  /** Work out what changes with the settings only. */
  settle(travel, units) {
    const {settings, rest} = travel;
    const key = `${settings.pressure} ${settings.setting} ${settings.temperature} ${units.system}`;
    if (key !== this.solved) {
      this.solved = key;
      this.wear.solve(settings, units);
      this.force.solve(settings);
      this.force.tell(`at ${units.text(settings.pressure, "pressure")}`);
    }
    const greatest = Math.max(...rest.gapProfile.left, ...rest.gapProfile.right);
    this.gaps.rule(Number.isFinite(greatest) ? greatest : 1, units);
  }

  /** Show one state. `phase` says what is going on; `stopped` is the last pose before a state that cannot exist. */
  show(state, travel, phase, units) {
    const {settings, end} = travel;
    const stopped = phase === "stopped";
    const told = stopped ? this.none : state;
    const applied = phase === "applied" && travel.touches;
    const verdict = judged(told, this.facts, applied, settings.pressure);
    this.picture.show(state, settings);
    say(this.drumName, `drum ${units.text(settings.temperature, "temperature")}`);
    if (state.reason === 0) this.#mechanism(state, travel, phase, units, end);
    this.#figures(told, settings, verdict, applied, units);
    return verdict;
  }

  #mechanism(state, travel, phase, units) {
    const {settings} = travel;
    const touching = Math.min(state.gaps.left.least, state.gaps.right.least) <= 1e-3;
    const share = settings.pressure > 0 ? Math.min((state.pressure || 0) / settings.pressure, 1) : 0;
    this.rule.show(state);
    this.angle.show(state, units);
    this.cam.show(state, units);
    this.pushes.show(state, phase, share, touching);
    this.gaps.show(state);
    this.magnifier.show(state, units);
    this.air.show(this.diaphragm.getAttribute("d"), (state.pressure || 0) / this.model.box.pressure[1]);
  }

  #figures(told, settings, verdict, applied, units) {
    const {word} = VERDICTS[verdict];
    const words = verdict === "open" ? unjudged(this.facts, units, applied, settings.pressure) : word;
    const share = told.stroke > 0 ? this.model.thrust.seek(told.stroke).share : NaN;
    const more = {share, lining: settings.lining, temperature: settings.temperature, facts: this.facts, verdict};
    this.gauge.show(told, units, verdict, words);
    this.figures.show(told, units, more);
    this.list.show(told, units, more);
    for (const plot of this.plots) plot.show(told, settings, verdict);
  }

  /** Whether everything inside the wheel is hidden, as it is from outside. */
  outside(hidden) {
    put(this.root, "data-outside", hidden ? "yes" : "no");
  }
}
