/** Three small plots that follow the picture: the present state stands in each as the same mark. */

import {Mark} from "./mark.js";
import {draw, put, r2, say, take, through} from "./svg.js";

const EDGE = {left: 52, right: 14, top: 34, bottom: 42};
const POINTS = 40;

/** How far a figure may be off an axis by rounding alone, as a share of the axis. */
const ROUNDING = 1e-9;

/** A plot with a curve, one line that limits, a shaded side and the mark. It draws in pixels, so that its letters stay. */
export class Plot {
  constructor(svg, title) {
    this.svg = svg;
    svg.replaceChildren();
    this.title = draw(svg, "text", {class: "plot-title", x: 0, y: 18});
    this.title.textContent = title;
    this.shade = draw(svg, "rect", {class: "mv-forbidden"});
    this.grid = draw(svg, "path", {class: "mv-grid"});
    this.axis = draw(svg, "path", {class: "mv-scale"});
    this.limit = draw(svg, "path", {class: "mv-stop"});
    this.cursor = draw(svg, "path", {class: "plot-cursor"});
    this.curve = draw(svg, "path", {class: "plot-curve"});
    this.end = draw(svg, "path", {class: "plot-end"});
    this.labels = draw(svg, "g");
    this.mark = new Mark(svg, 7);
    this.x = [0, 1];
    this.y = [0, 1];
  }

  /** Take the size (pixels) that the page gives it. */
  resize(width, height) {
    put(this.svg, "viewBox", `0 0 ${Math.round(width)} ${Math.round(height)}`);
    const letter = parseFloat(getComputedStyle(this.svg).fontSize) || 15;
    const by = letter / 15;
    this.letter = letter;
    this.right = width - EDGE.right * by;
    this.left = EDGE.left * by;
    this.top = EDGE.top * by;
    this.bottom = height - EDGE.bottom * by;
    put(this.title, "y", letter);
  }

  across(value) {
    const [low, high] = this.x;
    return this.left + ((value - low) / (high - low)) * (this.right - this.left);
  }

  down(value) {
    const [low, high] = this.y;
    return this.bottom - ((value - low) / (high - low)) * (this.bottom - this.top);
  }

  /** Draw the axes: ticks are pairs of a value and its words. */
  axes(xTicks, yTicks, xName) {
    const {labels, left, right, top, bottom, letter} = this;
    labels.replaceChildren();
    let grid = "";
    for (const [value, words] of yTicks) {
      const y = r2(this.down(value));
      grid += `M${left} ${y}H${r2(right)}`;
      this.label(words, left - 8, y + 0.35 * letter, "end", "plot-tick");
    }
    for (const [value, words] of xTicks) {
      this.label(words, r2(this.across(value)), r2(bottom + 1.25 * letter), "middle", "plot-tick");
    }
    this.label(xName, r2((left + right) / 2), r2(bottom + 2.45 * letter), "middle", "plot-tick");
    put(this.grid, "d", grid);
    put(this.axis, "d", `M${left} ${top}V${r2(bottom)}H${r2(right)}`);
  }

  /** Shade what is not allowed, from the top down. */
  forbid(left, right, bottom) {
    const box = {x: left, y: this.top, width: right - left, height: bottom - this.top};
    for (const [name, value] of Object.entries(box)) put(this.shade, name, r2(value));
  }

  /** Write a word into the plot. */
  label(words, x, y, anchor = "start", kind = "plot-word") {
    const node = draw(this.labels, "text", {x: r2(x), y: r2(y), "text-anchor": anchor, class: kind});
    node.textContent = words;
    return node;
  }

  /** Draw the curve through points; it ends, marked by a bar, where there is no state any more. */
  line(xs, ys) {
    let last = ys.length;
    while (last > 0 && !Number.isFinite(ys[last - 1])) last -= 1;
    let first = 0;
    while (first < last && !Number.isFinite(ys[first])) first += 1;
    const count = last - first;
    put(this.curve, "d", count > 1 ? through(count, (i) => this.across(xs[first + i]), (i) => this.down(ys[first + i])) : "");
    const stopped = count > 1 && last < ys.length;
    put(this.end, "d", stopped ? `M${r2(this.across(xs[last - 1]))} ${r2(this.down(ys[last - 1]) - 9)}v18` : "");
  }

  /** Put the mark where the state is; none where there is no such point. */
  stand(x, y, verdict) {
    const [low, high] = [Math.min(...this.x), Math.max(...this.x)];
    const spare = ROUNDING * (high - low);
    x = x >= low - spare && x <= high + spare ? Math.min(Math.max(x, low), high) : NaN;
    const shown = Number.isFinite(x) && Number.isFinite(y);
    take(this.mark.node, shown);
    take(this.cursor, Number.isFinite(x));
    if (!Number.isFinite(x)) return;
    put(this.cursor, "d", `M${r2(this.across(x))} ${this.top}V${r2(this.bottom)}`);
    if (shown) this.mark.place(this.across(x), this.down(y), verdict);
  }
}

/** Steps from tick to tick, as they are counted in, and how many figures each takes. */
const STEPS = [[1, 1], [2, 1], [2.5, 2], [5, 1], [10, 1]];

/** Even ticks over a range in the units shown, all with as many decimals as their step takes; 0 is plain. */
export function ticks(units, kind, low, high, count) {
  const unit = units.inside(1, kind) - units.inside(0, kind);
  const rough = (high - low) / unit / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const [first, figures] = STEPS.find(([one]) => one * power >= rough * 0.999);
  const step = first * power;
  const decimals = Math.max(figures - 1 - Math.floor(Math.log10(step) + 1e-9), 0);
  const found = [];
  for (let i = Math.ceil(units.shown(low, kind) / step - 1e-9); units.inside(i * step, kind) <= high * (1 + 1e-9); i += 1) {
    found.push([units.inside(i * step, kind), i === 0 ? "0" : (i * step).toFixed(decimals)]);
  }
  return found;
}

/** Ticks in thousands, where there are any: 2k, or 2.5k where some tick is no whole one. */
export function thousands(found) {
  if (!found.some(([, words]) => Number(words) >= 1000)) return found;
  const decimals = Math.max(...found.map(([, words]) => String(Number(words) / 1000).split(".")[1]?.length ?? 0));
  return found.map(([value, words]) => [value, words === "0" ? words : `${(Number(words) / 1000).toFixed(decimals)}k`]);
}

/** The stroke at the test pressure against what is left of the linings, with the adjuster standing where it is. */
export class WearPlot extends Plot {
  constructor(svg, model, facts) {
    super(svg, "Stroke as the linings wear");
    this.model = model;
    this.facts = facts;
    this.state = model.blank();
    this.xs = new Float64Array(POINTS + 1);
    this.ys = new Float64Array(POINTS + 1);
  }

  /** Draw axes, limit and words. */
  rule(units) {
    const {facts, model} = this;
    const [thin, thick] = this.range ?? model.box.lining;
    this.x = [thick, thin];
    this.y = [0, 1.04 * facts.sizes.ratedStroke];
    const xs = ticks(units, "length", thin, thick, 4);
    this.axes(xs, ticks(units, "length", 0, this.y[1], 4), `lining left, ${units.word("length")} (new to worn)`);
    const stop = this.down(facts.limit.stroke);
    put(this.limit, "d", `M${this.left} ${r2(stop)}H${r2(this.right)}`);
    this.forbid(this.left, this.right, stop);
    this.words = this.label("", this.right - 6, stop + 1.2 * this.letter, "end");
  }

  /** Say what the limit is called and where it is. */
  bound({name, limit}) {
    say(this.words, name + limit);
  }

  /** Solve the curve at settings. A brake has little lining to wear between too tight and out of stroke: show that. */
  solve(settings, units) {
    if (this.setting !== settings.setting) {
      this.setting = settings.setting;
      this.range = this.#worth(settings);
      this.rule(units);
    }
    const [thick, thin] = this.x;
    for (let i = 0; i <= POINTS; i += 1) {
      this.xs[i] = thick + ((thin - thick) * i) / POINTS;
      this.ys[i] = this.model.state({...settings, lining: this.xs[i]}, this.state).stroke;
    }
    this.line(this.xs, this.ys);
  }

  /** The linings between which there is an application: from too tight on a hot drum to bottomed on a cold one. */
  #worth({setting}) {
    const {model, facts} = this;
    const [least, most] = model.box.lining;
    const past = (temperature, turn) => this.#search(least, most, (lining) => model.contact({lining, temperature}).first - setting > turn);
    const thick = past(facts.hot, 0);
    const thin = past(facts.cold, model.limits.lastTurn);
    const spare = Math.max(0.12 * (thick - thin), 0.2);
    return [Math.max(thin - spare, least), Math.min(thick + spare, most)];
  }

  /** The thickest lining for which something holds; it holds for all thinner ones. */
  #search(low, high, holds) {
    for (let i = 0; i < 30; i += 1) {
      const middle = 0.5 * (low + high);
      if (holds(middle)) low = middle;
      else high = middle;
    }
    return low;
  }

  show(state, settings, verdict) {
    this.stand(settings.lining, state.stroke, verdict);
  }
}

/** The arm's angle against the stroke: the linkage's own, whatever the rest; and where the right angle is lost. */
export class AnglePlot extends Plot {
  constructor(svg, model, facts) {
    super(svg, "Arm angle against stroke");
    this.play = 0;
    this.model = model;
    this.facts = facts;
  }

  /** The stroke (mm) up to which worn joints leave the arm where it is. */
  start(play) {
    this.play = play;
  }

  rule(units) {
    const {model, facts, play} = this;
    const rated = facts.sizes.ratedStroke;
    const xs = Float64Array.from({length: POINTS + 1}, (_, i) => (rated * i) / POINTS);
    const ys = xs.map((stroke) => model.arm.seek(model.turnAtStroke(Math.max(stroke, play))).armAngle.here());
    const known = [...ys].filter(Number.isFinite);
    const degree = Math.PI / 180;
    this.x = [0, rated];
    this.y = [Math.min(...known, 85 * degree) - 3 * degree, Math.max(...known, 95 * degree) + 3 * degree];
    this.axes(ticks(units, "length", 0, rated, 5), this.#angles(degree), `stroke, ${units.word("length")}`);
    const square = this.down(90 * degree);
    put(this.limit, "d", `M${this.left} ${r2(square)}H${r2(this.right)}`);
    put(this.shade, "width", 0);
    this.line(xs, ys);
    this.#lost(units, square);
  }

  #angles(degree) {
    const found = [];
    for (let angle = Math.ceil(this.y[0] / degree / 10) * 10; angle * degree <= this.y[1]; angle += 10) {
      found.push([angle * degree, `${angle}°`]);
    }
    return found;
  }

  #lost(units, square) {
    const at = this.model.limits.squareStroke;
    if (at === null || at > this.x[1]) return;
    const x = this.across(at);
    draw(this.labels, "path", {class: "plot-lost", d: `M${r2(x)} ${r2(square - 8)}v16`});
    const under = square + 2.7 * this.letter < this.bottom;
    const [side, edge, first] = under ? ["start", this.left + 6, 1.2] : ["end", this.right - 6, -1.7];
    this.label("square is lost", edge, square + first * this.letter, side);
    this.label(`at ${units.text(at, "length")}`, edge, square + (first + 1.2) * this.letter, side);
  }

  show(state, settings, verdict) {
    this.stand(state.stroke, state.armAngle, verdict);
  }
}

/** The chamber's push on the rod against the stroke, at the present pressure, with its fall-off. */
export class ForcePlot extends Plot {
  constructor(svg, model, facts) {
    super(svg, "Push on the rod against stroke");
    this.model = model;
    this.facts = facts;
    this.xs = Float64Array.from({length: 2 * POINTS + 1}, (_, i) => (facts.sizes.ratedStroke * i) / (2 * POINTS));
    this.ys = new Float64Array(2 * POINTS + 1);
    this.most = model.box.pressure[1] * facts.sizes.area;
  }

  rule(units) {
    const {facts} = this;
    this.x = [0, facts.sizes.ratedStroke];
    this.y = [0, this.most];
    const force = thousands(ticks(units, "force", 0, this.most, 4));
    this.axes(ticks(units, "length", 0, this.x[1], 5), force, `stroke, ${units.word("length")}`);
    const stop = r2(this.across(facts.limit.stroke));
    put(this.limit, "d", `M${stop} ${this.top}V${r2(this.bottom)}`);
    this.forbid(stop, this.right, this.bottom);
    this.words = this.label("", stop - 6, this.top + this.letter, "end");
    this.unit = this.label(units.word("force"), this.left + 6, this.top + this.letter, "start", "plot-tick");
    this.falls = this.label("", this.left + 6, this.bottom - 0.7 * this.letter);
  }

  /** Say what the limit is called. */
  bound({name}) {
    say(this.words, name.trim());
  }

  /** Work the curve out at a pressure. */
  solve({pressure}) {
    const {area, springPreload, springRate} = this.model.constants;
    this.xs.forEach((stroke, i) => {
      const {share} = this.model.thrust.seek(stroke);
      this.ys[i] = Math.max(pressure * area * share - springPreload - springRate * stroke, 0);
    });
    this.line(this.xs, this.ys);
  }

  /** Tell the pressure that the curve is for. */
  tell(words) {
    say(this.falls, words);
  }

  show(state, settings, verdict) {
    this.stand(state.stroke, state.chamberForce, verdict);
  }
}
