/** Figures over the time of a scenario: its pressures, and what pushes on the rod. */

import {Plot, thousands, ticks} from "./plots.js";
import {draw, put, r2, say, take, through} from "./svg.js";

/** Several columns of a course over time, each named at its line. */
export class TimePlot extends Plot {
  /** `lines` are {column, words, kind, at}: `at` is the share of the time at which a line is named. */
  constructor(svg, title, quantity, lines) {
    super(svg, title);
    take(this.mark.node, false);
    this.named = title;
    this.quantity = quantity;
    this.lines = lines.map((line) => ({...line, node: draw(svg, "path", {class: `plot-curve ${line.kind}`})}));
  }

  /** Leave room for the names of the lines under the title. */
  resize(width, height) {
    super.resize(width, height);
    this.top += 0.8 * this.letter;
  }

  /** Take the page's size. */
  fit() {
    const {width, height} = this.svg.getBoundingClientRect();
    if (width > 0 && height > 0) this.resize(width, height);
    else this.resize(320, 200);
  }

  /** Draw a course; `most` is the axis' end, `mark` a level that is drawn across it. */
  lay(course, most, mark, units) {
    if (!this.right) return;
    this.x = [0, course.end];
    this.y = [0, most];
    const times = seconds(course.end);
    const values = thousands(ticks(units, this.quantity, 0, most, 4));
    this.axes(times.list, values, times.words);
    put(this.limit, "d", mark ? `M${this.left} ${r2(this.down(mark.at))}H${r2(this.right)}` : "");
    if (mark) this.label(mark.words, this.right - 4, this.down(mark.at) - 5, "end");
    say(this.title, `${this.named}, ${units.word(this.quantity)}`);
    for (const {column, node} of this.lines) {
      const values = course.columns[column];
      const high = (i) => this.down(Math.min(Math.max(values[i], 0), most));
      put(node, "d", through(values.length, (i) => this.across(course.time[i]), high));
    }
    this.#legend();
  }

  /** Each line's name beside a piece of it, under the title. */
  #legend() {
    let x = 0;
    const y = this.top - 0.45 * this.letter;
    for (const {words, kind} of this.lines) {
      draw(this.labels, "path", {class: `plot-curve ${kind}`, d: `M${r2(x)} ${r2(y - 4)}h16`});
      x += 20 + this.label(words, x + 20, y).getComputedTextLength() + 10;
    }
  }

  show(time) {
    put(this.cursor, "d", `M${r2(this.across(time))} ${this.top}V${r2(this.bottom)}`);
  }
}

/** Round times on an axis up to an end (s): in minutes where it is long. */
export function seconds(end) {
  const unit = end > 120 ? 60 : 1;
  const step = [1, 2, 3, 5, 10].find((one) => one * unit * 7 >= end);
  const list = Array.from({length: Math.floor(end / unit / step + 1e-9) + 1}, (_, i) => [i * step * unit, String(i * step)]);
  return {list, words: unit > 1 ? "minutes" : "seconds"};
}
