/**
 * A verdict on its own scale: the stroke against its limit, the mark as wide as the tape can tell.
 * An open ring inside the limit, a ring on the line at it, a solid block beyond it, a dotted ring where it is not judged.
 */

import {draw, put, r2, say, set, take, write} from "./svg.js";

/** What a stroke is against its limit. */
export const VERDICTS = {
  over: {word: "over the limit", shape: "block"},
  close: {word: "at the limit", shape: "ring"},
  inside: {word: "inside the limit", shape: "ring"},
  open: {word: "not judged yet", shape: "dots"},
  none: {word: "no such state", shape: "dots"},
};

/** Judge a state: over the limit at any time, inside it only for a chamber that is known to be this one,
 * when fully applied at a pressure that a test asks for. */
export function judged(state, facts, applied, pressure) {
  if (state.reason !== 0) return "none";
  const {limit, tape, test} = facts;
  if (state.stroke > limit.stroke + 1e-9) return "over";
  if (!limit.known || !applied || pressure < test[0] - 1e-6 || pressure > test[1] + 1e-6) return "open";
  return state.stroke + tape > limit.stroke + 1e-9 ? "close" : "inside";
}

/** Why a state that exists is not judged, in words. */
export function unjudged(facts, units, applied, pressure) {
  if (!facts.limit.known) return "the file does not say which chamber it is";
  if (!applied) return "judged when applied";
  const [low, high] = facts.test.map((value) => units.number(value, "pressure"));
  return pressure > 0 ? `judged at ${low} to ${high} ${units.word("pressure")}` : "no pressure";
}

/** A mark that is one of the four shapes. */
export class Mark {
  constructor(parent, radius, half = radius) {
    this.node = draw(parent, "g", {class: "mark"});
    this.ring = draw(this.node, "circle", {r: radius, class: "mv-ring"});
    this.block = draw(this.node, "rect", {class: "mv-block", x: -half, y: -radius, width: 2 * half, height: 2 * radius});
  }

  /** Stand at a point in a verdict's shape. */
  place(x, y, verdict) {
    const {shape} = VERDICTS[verdict];
    put(this.node, "transform", `translate(${r2(x)} ${r2(y)})`);
    put(this.ring, "visibility", shape === "block" ? "hidden" : "visible");
    put(this.block, "visibility", shape === "block" ? "visible" : "hidden");
    put(this.ring, "class", shape === "dots" ? "mv-ring mv-dots" : "mv-ring");
  }
}

/** The headline of the picture: the stroke, large, on a scale from 0 to the chamber's rated stroke. */
export class Gauge {
  constructor(group, [x, y, width], facts) {
    this.facts = facts;
    this.x = x + 6;
    this.rated = facts.sizes.ratedStroke;
    this.per = (width - 60) / this.rated;
    this.line = y + 76;
    const stop = this.at(facts.limit.stroke);
    const end = this.at(this.rated);
    this.value = write(group, "", x, y + 30, {class: "mv-big mv-of-push", id: "value-stroke"});
    this.verdict = write(group, "", x, y + 30, {class: "mv-figure verdict"});
    draw(group, "rect", {class: "mv-forbidden", x: stop, y: this.line - 15, width: end - stop, height: 30});
    draw(group, "path", {class: "mv-scale", d: `M${this.x} ${this.line}H${r2(end)}M${this.x} ${this.line - 10}v20M${r2(end)} ${this.line - 10}v20`});
    set(draw(group, "line"), {class: "mv-heavy mv-stop", x1: stop, x2: stop, y1: this.line - 22, y2: this.line + 22});
    this.mark = new Mark(group, 12, Math.max(facts.tape * this.per, 8));
    this.zero = write(group, "0", this.x, this.line + 44);
    this.limit = write(group, "", stop - 6, this.line + 44, {"text-anchor": "end", id: "value-limit"});
    this.last = write(group, "", r2(end), this.line + 44, {"text-anchor": "end"});
    this.margin = write(group, "", x, this.line + 78, {class: "mv-label", id: "value-margin"});
  }

  /** Across, of a stroke. */
  at(stroke) {
    return this.x + stroke * this.per;
  }

  /** Write the scale's ends in another system of units. */
  rule(units) {
    const {limit} = this.facts;
    say(this.limit, `limit ${units.system === "inch" ? limit.inches : units.text(limit.stroke, "length")}`);
    say(this.last, `${Number(units.number(this.rated, "length", 2))} ${units.word("length")}`);
  }

  /** Show a state with its verdict. */
  show(state, units, verdict, words) {
    const exists = state.reason === 0;
    say(this.value, exists ? `stroke ${units.text(state.stroke, "length")}` : "stroke –");
    say(this.verdict, words);
    put(this.verdict, "class", `mv-figure verdict verdict-${verdict}`);
    put(this.verdict, "x", r2(this.#after()));
    take(this.mark.node, exists);
    this.mark.place(this.at(exists ? state.stroke : 0), this.line, verdict);
    say(this.margin, marginWords(state.stroke, this.facts, units, exists));
  }

  /** Where the verdict's words start: behind the figure, whose width changes with its digits only. */
  #after() {
    const form = this.value.said.replace(/\d/g, "0");
    if (this.form !== form) {
      this.form = form;
      this.start = Number(this.value.getAttribute("x")) + this.value.getComputedTextLength() + 18;
    }
    return this.start;
  }
}

/** The margin in words. */
export function marginWords(stroke, facts, units, exists = true) {
  if (!exists) return "margin –";
  const margin = facts.limit.stroke - stroke;
  const text = units.text(Math.abs(margin), "length");
  return margin >= 0 ? `margin ${text}` : `over by ${text}`;
}
