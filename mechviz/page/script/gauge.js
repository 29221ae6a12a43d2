/** The headline of the picture: what is going on, the stroke with its verdict, and both on a scale with the limit. */

import {Mark} from "./mark.js";
import {draw, put, r2, say, set, take, write} from "./svg.js";
import {inState, ofLinings} from "./touch.js";
import {limitName, said, VERDICTS} from "./verdict.js";

const BACK = {
  fills: "The air leaves the chamber",
  travels: "The rod goes back",
  touches: "The linings come off",
  presses: "The air leaves the chamber",
  applied: "The air leaves the chamber",
};

const DOING = {
  released: "Released",
  fills: "Air enters the chamber",
  travels: "The rod moves",
  touches: "At first contact",
  presses: (state) => ofLinings(state, "press", "presses"),
  strains: "The cam cannot turn",
  slack: "The rod moves, the arm not yet",
  stopped: "Cannot go on",
};

/** Letters of a verdict that are set large; longer ones go into the same width smaller. */
const LARGE = 42;

/** The state in words, its stroke large, and a scale from 0 to the chamber's rated stroke. */
export class Gauge {
  constructor(group, facts) {
    const {layout, sizes, notes} = facts;
    const [x, y, width] = layout.stroke;
    this.facts = facts;
    this.notes = notes.gauge;
    this.x = x + 6;
    this.rated = sizes.ratedStroke;
    this.per = (width - this.notes.spare) / this.rated;
    this.line = y + this.notes.scale;
    this.#words(group, x, y, layout.title[1]);
    this.#scale(group);
    const half = Math.max(facts.tape * this.per, this.notes.half);
    this.ticks = draw(group, "path", {class: "mv-free"});
    this.open = draw(group, "path", {class: "mv-scale"});
    this.mark = new Mark(group, this.notes.radius, half);
  }

  #words(group, x, y, top) {
    this.doing = write(group, "", x, top + 30, {class: "mv-figure names"});
    const found = write(group, "lining ", x, top + 62, {class: "mv-label names"});
    this.lining = draw(found, "tspan", {id: "value-lining"});
    found.append(", drum at ");
    this.drum = draw(found, "tspan");
    const stroke = write(group, "stroke ", x, y + 30, {class: "mv-big mv-of-push"});
    this.value = draw(stroke, "tspan", {id: "value-stroke"});
    this.verdict = write(group, "", x, y + 64, {class: "mv-figure verdict"});
    this.word = draw(this.verdict, "tspan", {id: "value-verdict"});
    this.margin = draw(this.verdict, "tspan", {id: "value-margin"});
  }

  #scale(group) {
    const [stop, end] = [this.at(this.facts.limit.stroke), this.at(this.rated)];
    const {line} = this;
    draw(group, "rect", {class: "mv-forbidden", x: stop, y: line - 15, width: Math.max(end - stop, 0), height: 30});
    draw(group, "path", {class: "mv-scale", d: `M${this.x} ${line}H${r2(end)}M${this.x} ${line - 10}v20M${r2(end)} ${line - 10}v20`});
    set(draw(group, "line"), {class: "mv-stop", x1: stop, x2: stop, y1: line - 22, y2: line + 22});
    const under = line + this.notes.words;
    const low = {"text-anchor": "middle"};
    write(group, "0", this.x, under, low);
    this.free = write(group, "", 0, under, {...low, class: "mv-label mv-of-push"});
    this.limit = write(group, "", 0, under, low);
    this.limitWord = draw(this.limit, "tspan");
    this.limitValue = draw(this.limit, "tspan", {id: "value-limit"});
    this.last = write(group, "", 0, under, low);
  }

  /** Across, of a stroke. */
  at(stroke) {
    return this.x + stroke * this.per;
  }

  /** Take in settings: where the linings first touch, where the application ends, and the limit's name. */
  settle({settings, contact, end, touches: reached, held}, units) {
    const touches = reached && !held;
    const {facts, line} = this;
    const strokes = touches ? [contact, end] : [];
    put(this.ticks, "d", strokes.map((stroke) => `M${r2(this.at(stroke))} ${line - 15}v30`).join(""));
    const {name, limit} = limitName(settings, facts, units);
    say(this.limitWord, name);
    say(this.limitValue, limit);
    say(this.last, facts.rated[units.system]);
    say(this.free, touches ? `touches at ${units.text(contact, "length")}` : "");
    this.#apart(contact, units.system);
    say(this.lining, units.text(settings.lining, "length"));
    say(this.drum, units.text(settings.temperature, "temperature"));
    this.pressure = units.text(settings.pressure, "pressure");
  }

  /** Put the words under the scale where none touches another; the free stroke's go where there is no room. */
  #apart(contact, system) {
    const [last, limit, free] = [this.last, this.limit, this.free].map((node) => this.#width(node, system));
    const lastAt = Math.min(this.at(this.rated), this.at(this.rated) + this.notes.beyond - 0.5 * last);
    const limitAt = Math.min(this.at(this.facts.limit.stroke), lastAt - 0.5 * last - 14 - 0.5 * limit);
    const [low, high] = [this.x + 18 + 0.5 * free, limitAt - 0.5 * limit - 14 - 0.5 * free];
    put(this.last, "x", r2(lastAt));
    put(this.limit, "x", r2(limitAt));
    put(this.free, "x", r2(Math.min(Math.max(this.at(contact), low), high)));
    take(this.free, low <= high);
  }

  /** The letters have another width than before: measure them again. */
  lettered() {
    for (const node of [this.last, this.limit, this.free]) node.form = null;
  }

  /** The width of a text; it is measured again only where its letters, and not its digits alone, are others, or none were seen. */
  #width(node, system) {
    const form = `${system}${node.textContent.replace(/\d/g, "0")}`;
    if (node.form !== form || !node.wide) {
      node.form = form;
      node.wide = node.textContent ? node.getComputedTextLength() : 0;
    }
    return node.wide;
  }

  /** How much readings and model leave open of a stroke: brackets round it, that reach the limit where it is close. */
  #brackets(stroke) {
    const {line} = this;
    const ends = [-1, 1].map((way) => [this.at(Math.min(Math.max(stroke + way * this.facts.open, 0), this.rated)), way]);
    return ends.map(([x, way]) => `M${r2(x - 5 * way)} ${line - 9}h${5 * way}v18h${-5 * way}`).join("");
  }

  /** Show a state with its verdict. */
  show(state, units, verdict, phase, {doing, back}) {
    const exists = state.reason === 0;
    const applied = phase === "applied";
    say(this.doing, doing ?? ((back && BACK[phase]) || (applied ? `Applied at ${this.pressure}` : inState(DOING[phase], state))));
    say(this.value, exists ? units.text(state.stroke, "length") : "–");
    const {word} = VERDICTS[verdict];
    const words = said(verdict, state, this.facts, units, applied);
    say(this.word, `${word}: `);
    say(this.margin, words);
    const size = word.length + 2 + words.length > LARGE ? "label" : "figure";
    put(this.verdict, "class", `mv-${size} verdict verdict-${verdict}`);
    take(this.mark.node, exists || verdict === "spent");
    put(this.open, "d", ["inside", "close"].includes(verdict) ? this.#brackets(state.stroke) : "");
    this.mark.place(this.at(exists ? state.stroke : this.rated), this.line, verdict);
  }
}
