/** The stroke over the life that is looked at, cold and hot, with the limit and what comes. */

import {Plot, ticks} from "./plots.js";
import {draw, put, r2, through} from "./svg.js";

const POINTS = 160;

/** The plot of the mode of life. */
export class LifePlot extends Plot {
  constructor(svg, mode) {
    super(svg, "Stroke over the life");
    this.mode = mode;
    this.state = mode.player.model.blank();
    this.hot = draw(svg, "path", {class: "plot-curve plot-hot"});
  }

  /** Leave room for the names of the lines under the title. */
  resize(width, height) {
    super.resize(width, height);
    this.top += 0.8 * this.letter;
  }

  /** Take the page's size and draw all. */
  fit(units) {
    const {width, height} = this.svg.getBoundingClientRect();
    if (width > 0 && height > 0) this.resize(width, height);
    else this.resize(320, 200);
    this.solve(units);
  }

  /** Solve both curves of the life. */
  solve(units) {
    if (!this.right) return;
    const {facts} = this.mode.player;
    const {end} = this.mode.life;
    const {new: thickness} = this.mode.data;
    this.x = [0, end];
    this.y = [0, 1.04 * facts.sizes.ratedStroke];
    const left = ticks(units, "length", thickness - end, thickness, 4).map(([lining, words]) => [thickness - lining, words]);
    this.axes(left, ticks(units, "length", 0, this.y[1], 4), `lining left, ${units.word("length")} (new to worn)`);
    const stop = this.down(facts.limit.stroke);
    put(this.limit, "d", `M${this.left} ${r2(stop)}H${r2(this.right)}`);
    this.forbid(this.left, this.right, stop);
    const xs = Float64Array.from({length: POINTS + 1}, (_, i) => (end * i) / POINTS);
    const cold = this.#strokes(xs, false);
    this.line(xs, cold);
    const hot = this.#strokes(xs, true);
    const known = hot.findIndex((stroke) => !Number.isFinite(stroke));
    const count = known < 0 ? xs.length : known;
    this.#name(stop, [cold, hot], xs);
    put(this.hot, "d", count > 1 ? through(count, (i) => this.across(xs[i]), (i) => this.down(hot[i])) : "");
    this.#legend();
    for (const {at} of this.mode.life.events) {
      draw(this.labels, "path", {class: "strip-flag", d: `M${r2(this.across(at))} ${r2(this.bottom)}v-8`});
    }
  }

  #strokes(xs, hot) {
    return Float64Array.from(xs, (wear) => this.mode.player.model.state(this.mode.at(wear, this.mode.which, hot), this.state).stroke);
  }

  /** Name the limit where its words are farthest from both curves: at either end, above the line or under it. */
  #name(stop, curves, xs) {
    const words = "cold limit";
    const wide = 0.6 * words.length * this.letter;
    const places = [1.2, -0.4].flatMap((low) => [["start", this.left + 6], ["end", this.right - 6]].map(([anchor, x]) => {
      const [from, to] = anchor === "start" ? [x, x + wide] : [x - wide, x];
      const middle = stop + (low - 0.35) * this.letter;
      const apart = curves.flatMap((curve) => [...curve].filter((_, i) => this.across(xs[i]) >= from && this.across(xs[i]) <= to)
        .map((stroke) => Math.abs(this.down(stroke) - middle)).filter(Number.isFinite));
      return {x, y: stop + low * this.letter, anchor, apart: Math.min(Infinity, ...apart)};
    }));
    const {x, y, anchor} = places.reduce((best, one) => (one.apart > best.apart ? one : best));
    this.label(words, x, y, anchor);
  }

  #legend() {
    const y = this.top - 0.45 * this.letter;
    [["cold", ""], ["hot", "plot-hot"]].forEach(([words, kind], i) => {
      const x = this.left + 5 * i * this.letter;
      draw(this.labels, "path", {class: `plot-curve ${kind}`, d: `M${r2(x)} ${r2(y - 4)}h24`});
      this.label(words, x + 29, y);
    });
  }

  show(wear, state, verdict) {
    this.stand(wear, state.stroke, verdict);
  }
}
