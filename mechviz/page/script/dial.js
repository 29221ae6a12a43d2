/** The gauge of the service reservoir: a needle over a scale, the warning mark, and its state by word and shape. */

import {arc, draw, put, r2, say, take, write} from "./svg.js";

const START = (215 * Math.PI) / 180;
const SWEEP = (250 * Math.PI) / 180;
const [WIDTH, HEIGHT, X, Y, RADIUS] = [340, 246, 180, 142, 92];

/** The mark of each state of the air: an open ring, a triangle, a solid block. */
const [LEFT, FOOT] = [14, HEIGHT - 8];
const SHAPES = {
  enough: `M${LEFT - 9} ${FOOT - 8}a9 9 0 1 0 18 0a9 9 0 1 0 -18 0z`,
  low: `M${LEFT} ${FOOT - 19}L${LEFT + 12} ${FOOT}H${LEFT - 12}Z`,
  gone: `M${LEFT - 10} ${FOOT - 18}h20v18h-20z`,
};

/** The dial of one page; `most` is its scale's end, `warning` where the warning comes on, MPa. */
export class Dial {
  constructor(svg, most, warning) {
    Object.assign(this, {svg, most, warning, closing: 0});
    put(svg, "viewBox", `0 0 ${WIDTH} ${HEIGHT}`);
    svg.replaceChildren();
    write(svg, "Service reservoir", 4, 20, {class: "plot-title"});
    draw(svg, "path", {class: "dial-low", d: arc(X, Y, RADIUS - 7, this.angle(0), this.angle(warning))});
    draw(svg, "path", {class: "mv-scale", d: arc(X, Y, RADIUS, this.angle(0), this.angle(most))});
    this.ticks = draw(svg, "g");
    const [x1, y1, x2, y2] = [...this.#at(warning, RADIUS - 24), ...this.#at(warning, RADIUS + 9)];
    draw(svg, "path", {class: "dial-warning", d: `M${r2(x1)} ${r2(y1)}L${r2(x2)} ${r2(y2)}`});
    this.needle = draw(svg, "path", {class: "dial-needle", d: `M0 -6L${RADIUS - 16} 0L0 6Z`});
    draw(svg, "circle", {class: "dial-hub", cx: X, cy: Y, r: 9});
    this.value = write(svg, "", X, Y + 72, {class: "dial-value", "text-anchor": "middle", id: "value-reservoir"});
    this.marks = Object.fromEntries(Object.entries(SHAPES).map(([name, d]) => [name, draw(svg, "path", {class: `air-mark mark-${name}`, d})]));
    this.word = write(svg, "", 34, HEIGHT - 8, {class: "dial-word", id: "value-air"});
  }

  /** Which way (rad, counter-clockwise from the right) a pressure points. */
  angle(pressure) {
    return START - (Math.min(Math.max(pressure / this.most, 0), 1)) * SWEEP;
  }

  #at(pressure, radius) {
    const angle = this.angle(pressure);
    return [X + radius * Math.cos(angle), Y - radius * Math.sin(angle)];
  }

  /** Write the scale in the units shown. */
  rule(units) {
    this.ticks.replaceChildren();
    const step = units.system === "inch" ? 20 : 200;
    for (let value = 0; units.inside(value, "pressure") <= this.most * 1.001; value += step) {
      const pressure = units.inside(value, "pressure");
      const [x1, y1, x2, y2] = [...this.#at(pressure, RADIUS), ...this.#at(pressure, RADIUS - 10)];
      draw(this.ticks, "path", {class: "mv-tick", d: `M${r2(x1)} ${r2(y1)}L${r2(x2)} ${r2(y2)}`});
      const [x, y] = this.#at(pressure, RADIUS - 24);
      if (Math.abs(pressure - this.warning) > 0.05 * this.most) write(this.ticks, String(value), r2(x), r2(y + 5), {class: "plot-tick", "text-anchor": "middle"});
    }
    const [x, y] = this.#at(this.warning, RADIUS + 14);
    write(this.ticks, `${units.number(this.warning, "pressure")} warning`, r2(x), r2(y + 2), {class: "plot-word", "text-anchor": y < Y - 80 ? "middle" : "start"});
  }

  /** Show a pressure; `closing` is where the valve shuts by itself, 0 where none does. */
  show(pressure, closing, units) {
    const state = airState(pressure, this.warning, closing);
    put(this.needle, "transform", `translate(${X} ${Y}) rotate(${r2((-this.angle(pressure) * 180) / Math.PI)})`);
    say(this.value, units.text(pressure, "pressure"));
    say(this.word, state.words);
    put(this.word, "class", `dial-word air-${state.name}`);
    for (const [name, node] of Object.entries(this.marks)) take(node, name === state.name);
    return state;
  }
}

/** Share of a pressure at which it is met: far less than the dial shows, more than its samples are rounded to. */
const HAIR = 1e-3;

/** How a reservoir stands: a word for it, and the shape of its mark. */
export function airState(pressure, warning, closing) {
  if (closing > 0 && pressure <= closing * (1 + HAIR)) return {name: "gone", words: "air lost: the springs are let on"};
  if (pressure <= warning * (1 + HAIR)) return {name: "low", words: "low air: the warning is on"};
  return {name: "enough", words: "enough air"};
}
