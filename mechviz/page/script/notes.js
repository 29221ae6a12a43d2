/** Notes at the mechanism itself: the rule along the pushrod, the arm's angle by a square corner, the turn of cam and arm. */

import {arc, draw, put, r2, say, show, write} from "./svg.js";
import {limitName} from "./verdict.js";

/** How far the arm angle's words reach above and below their line, and what they keep clear of the bracket, picture units. */
const ABOVE = 20;
const BELOW = 6;
const ASIDE = 6;
/** How far right of the pin the angle stays, clear of the square's dashes; and half the arm's width. */
const SQUARE = 14;
const ARM = 26;
const DEGREE = Math.PI / 180;

/** The rule along the pushrod, at the picture's scale, with the limit as a stop line across it. */
export class StrokeRule {
  constructor(group, place, facts) {
    this.place = place;
    this.facts = facts;
    [this.start, this.y] = facts.layout.rule;
    this.rated = facts.sizes.ratedStroke * place.scale;
    const {start, y} = this;
    draw(group, "path", {class: "mv-scale", d: `M${r2(start)} ${r2(y)}H${r2(start - this.rated)}`});
    this.ticks = draw(group, "path", {class: "mv-tick"});
    this.pointer = draw(group, "path", {class: "mv-pointer", d: "M0 2l-8 14h16z"});
    this.leader = draw(group, "line", {class: "mv-leader", y1: r2(y + 16)});
    this.free = draw(group, "path", {class: "mv-free"});
    const stop = r2(start - facts.limit.stroke * place.scale);
    draw(group, "path", {class: "mv-stop", d: `M${stop} ${r2(y + 10)}V${r2(y - 28)}`});
    this.words = write(group, "", stop, r2(y - 36), {"text-anchor": "middle"});
  }

  /** Rule in another system of units. */
  rule(units) {
    const [every, long] = this.facts.notes.rule[units.system];
    const step = every * this.place.scale;
    let d = "";
    for (let i = 0; i * step <= this.rated + 1e-4; i += 1) {
      d += `M${r2(this.start - i * step)} ${r2(this.y)}v${i % long === 0 ? -12 : -7}`;
    }
    put(this.ticks, "d", d);
  }

  /** Take in settings: mark where the linings first touch and where the application ends, and name the limit. */
  settle({settings, contact, end, touches}, units) {
    const {start, y, place} = this;
    const strokes = touches ? [contact, end] : [];
    put(this.free, "d", strokes.map((stroke) => `M${r2(start - stroke * place.scale)} ${r2(y + 3)}v-23`).join(""));
    const {name, limit} = limitName(settings, this.facts, units);
    say(this.words, name + limit);
  }

  /** Point at the stroke of a state. */
  show(state) {
    const x = r2(this.start - state.stroke * this.place.scale);
    put(this.pointer, "transform", `translate(${x} ${r2(this.y)})`);
    put(this.leader, "x1", x);
    put(this.leader, "x2", r2(this.place.armX(state.pin.x)));
    put(this.leader, "y2", r2(this.place.armY(state.pin.y)));
  }
}

/** The arm's angle at the clevis pin, beside a true square corner. */
export class ArmAngle {
  constructor(group, place, facts) {
    this.place = place;
    this.sizes = facts.notes.angle;
    const {corner, reach} = this.sizes;
    this.square = draw(group, "path", {class: "mv-square", d: `M0 0H${reach}M${corner} 0V${-corner}H0`});
    this.sweep = draw(group, "path", {class: "mv-angle"});
    this.value = write(group, "", 0, 0, {class: "mv-figure mv-of-turn", id: "value-arm-angle"});
    this.words = write(group, "", 0, 0, {class: "mv-label mv-of-turn mv-aside"});
  }

  /** Show a state. */
  show(state, units) {
    const [x, y] = [this.place.armX(state.pin.x), this.place.armY(state.pin.y)];
    const rod = -state.tilt;
    put(this.square, "transform", `translate(${r2(x)} ${r2(y)}) rotate(${r2((Math.PI / 2 - rod) / DEGREE)})`);
    put(this.sweep, "d", arc(x, y, this.sizes.radius, rod, rod - state.armAngle));
    say(this.value, units.text(state.armAngle, "angle"));
    say(this.words, stands(state.armAngle));
    const middle = rod - state.armAngle / 2;
    const vx = x + this.sizes.beside * Math.cos(middle);
    const vy = r2(y - this.sizes.beside * Math.sin(middle));
    const [upper, lower] = [vy + 10, vy + 36];
    const words = Math.min(vx, this.#most(this.words, lower));
    const value = Math.min(vx, this.#most(this.value, upper), Math.max(words, x + SQUARE));
    for (const [node, at, line] of [[this.value, value, upper], [this.words, words, lower]]) {
      put(node, "x", r2(at));
      put(node, "y", line);
    }
    show(this.words, words > this.#armEdge(x, y, lower));
  }

  /** The letters have another width than before. */
  lettered() {
    for (const node of [this.value, this.words]) node.form = null;
  }

  /** Where the arm's side is on a line, its pin being at x and y. */
  #armEdge(x, y, line) {
    const [ax, ay] = this.place.arm;
    return x + ((ax - x) * (line - y)) / (ay - y) + ARM;
  }

  /** How far to the right words on a line may begin: clear of bracket and chamber. */
  #most(node, line) {
    const form = node.textContent.replace(/\d/g, "0");
    if (form !== node.form) {
      node.form = form;
      node.wide = node.getComputedTextLength();
    }
    const {top, step, edge} = this.sizes.clear;
    const row = (y) => Math.max(Math.floor((y - top) / step), 0);
    return Math.min(...edge.slice(row(line - ABOVE), row(line + BELOW) + 1)) - node.wide - ASIDE;
  }
}

/** Where the arm stands, to a whole degree as an angle gauge tells it. */
export function stands(angle) {
  const off = Math.round(angle / DEGREE - 90);
  if (off === 0) return "square";
  return off > 0 ? `${off}° to square` : `${-off}° past square`;
}

/** How far cam and arm have turned from released: rays from the camshaft and the arcs between them. */
export class Turn {
  constructor(group, svg, place, facts, direction) {
    this.place = place;
    this.long = (facts.sizes.tipRadius - 1) * place.scale;
    const [x, y] = place.wheel;
    const up = r2(y - this.long);
    draw(group, "path", {class: "mv-ray", d: `M${x} ${y}V${up}`});
    this.ray = draw(group, "path", {class: "mv-ray", d: `M${x} ${y}V${up}`});
    this.cam = draw(group, "path", {class: "mv-angle"});
    const {armLength} = facts.sizes;
    this.arcAt = facts.notes.turn.armArc * armLength * place.scale;
    this.released = Math.PI - direction;
    const [ax, ay] = place.arm;
    const long = 1.1 * armLength * place.scale;
    const top = `${r2(ax + long * Math.cos(this.released))} ${r2(ay - long * Math.sin(this.released))}`;
    draw(group, "path", {class: "mv-before", d: `M${ax} ${ay}L${top}`});
    this.arm = draw(group, "path", {class: "mv-angle"});
    this.value = svg.querySelector("#value-cam-turn");
  }

  /** Show a state. */
  show(state) {
    const [x, y] = this.place.wheel;
    const [ax, ay] = this.place.arm;
    put(this.ray, "transform", `rotate(${r2(-state.camTurn / DEGREE)} ${x} ${y})`);
    put(this.cam, "d", arc(x, y, 0.86 * this.long, Math.PI / 2, Math.PI / 2 + state.camTurn));
    put(this.arm, "d", arc(ax, ay, this.arcAt, this.released, this.released + state.armTurn));
  }

  /** Write the cam's turn; a dash where the state cannot be. */
  tell({camTurn}, units) {
    if (this.value) say(this.value, units.text(camTurn, "angle"));
  }
}
