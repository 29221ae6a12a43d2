/** An axis that something is played along: what comes on it, where it comes, and where it stands now. */

import {draw, put, r2, take} from "./svg.js";

const HEIGHT = 62;
const ROWS = 2;
const EDGE = 8;

/** The strip of one panel. */
export class Strip {
  constructor(svg) {
    this.svg = svg;
    this.events = [];
    this.end = 1;
    this.ticks = () => [[0, ""], [1, ""]];
  }

  /** Take what comes on the axis: `events` are {at, short, done}; `ticks()` gives pairs of a place and its words. */
  lay(events, end, ticks) {
    Object.assign(this, {events, end, ticks});
    this.draw();
  }

  /** Draw it in the width that the page gives it. */
  draw() {
    const {svg} = this;
    const width = svg.getBoundingClientRect().width || 800;
    const letter = parseFloat(getComputedStyle(svg).fontSize) || 15;
    const by = letter / 15;
    Object.assign(this, {width, letter, line: (16 * ROWS + 8) * by});
    put(svg, "viewBox", `0 0 ${Math.round(width)} ${Math.round(HEIGHT * by)}`);
    put(svg, "height", Math.round(HEIGHT * by));
    svg.replaceChildren();
    draw(svg, "path", {class: "mv-scale", d: `M${EDGE} ${this.line}H${r2(width - EDGE)}`});
    this.past = draw(svg, "path", {class: "strip-past"});
    this.#ticks();
    this.#flags();
    this.cursor = draw(svg, "path", {class: "strip-cursor", d: `M0 ${r2(-9 * by)}l${r2(9 * by)} ${r2(10 * by)}h${r2(-18 * by)}z`});
    this.stand(this.now ?? 0);
  }

  across(at) {
    return EDGE + (at / this.end) * (this.width - 2 * EDGE);
  }

  /** The ends are always named, what lies between where there is room. */
  #ticks() {
    const ticks = this.ticks();
    const taken = [];
    for (const [at, words] of [ticks[0], ticks.at(-1), ...ticks.slice(1, -1)]) {
      const x = r2(this.across(at));
      draw(this.svg, "path", {class: "mv-tick", d: `M${x} ${this.line}v6`});
      const {node, left, right} = this.#word(words, x, this.line + 1.35 * this.letter, "plot-tick");
      const free = taken.every((one) => left > one.right + 8 || right < one.left - 8);
      take(node, free);
      if (free) taken.push({left, right});
    }
  }

  #word(words, x, y, kind) {
    const node = draw(this.svg, "text", {x, y: r2(y), class: kind, "text-anchor": "middle"});
    node.textContent = words;
    const half = 0.5 * node.getComputedTextLength();
    const middle = Math.min(Math.max(x, half), this.width - half);
    node.setAttribute("x", r2(middle));
    return {node, left: middle - half, right: middle + half};
  }

  /** Words of events in as many rows as it takes; where there is no room, the flag stands alone. */
  #flags() {
    const taken = Array(ROWS).fill(-Infinity);
    for (const {at, short, done} of this.events) {
      const x = r2(this.across(at));
      const {node, left, right} = this.#word(short, x, 0, done ? "strip-done" : "strip-word");
      const row = taken.findIndex((end) => left > end + 12);
      take(node, row >= 0);
      const top = row >= 0 ? this.line - 8 - (this.letter + 1) * row : this.line - 4;
      node.setAttribute("y", r2(top));
      const flag = draw(this.svg, "path", {class: done ? "strip-flag strip-by-hand" : "strip-flag", d: `M${x} ${this.line + 5}V${r2(row >= 0 ? top + 3 : this.line - 5)}`});
      this.past.after(flag);
      if (row >= 0) taken[row] = right;
    }
  }

  /** Stand at a place. */
  stand(at) {
    this.now = at;
    if (!this.cursor) return;
    const x = r2(this.across(at));
    put(this.cursor, "transform", `translate(${x} ${r2(this.line + 9)})`);
    put(this.past, "d", `M${EDGE} ${this.line}H${x}`);
  }
}

/** The last of some events that has come at a place; null before the first. */
export function latest(events, at) {
  return events.findLast((event) => event.at <= at + 1e-9) ?? null;
}

/** Where the next event (way 1) or the one before (-1) stands, seen from a place; the ends where there is none. */
export function nextPlace(events, at, end, way) {
  const places = [0, ...events.map((event) => event.at), end];
  const spare = 1e-6 * end;
  return way > 0 ? (places.find((one) => one > at + spare) ?? end) : (places.findLast((one) => one < at - spare) ?? 0);
}
