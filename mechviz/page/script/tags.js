/**
 * Names of what moves, in a column on either side, each with a line to its part: they never lie on one another. A line
 * goes to a place that is seen; a part of which nothing is seen has no name.
 */

import {carried} from "./solid_part.js";
import {draw, put, r2, say, take} from "./svg.js";

/**
 * What is named, and where a line may go to: a part and shares of its box. The line goes to the corner of its surface
 * that is nearest to there; `true` says that it goes right there, since nothing but smooth surface is near.
 */
const NAMES = [
  ["Pushrod", "push", ["pushrod", 0.72, 0.5, 0.5, true], ["pushrod", 0.84, 0.5, 0.5, true], ["pushrod", 0.5, 0.5, 0.5, true]],
  ["Slack adjuster", "turn", ["slack_adjuster", 0.4, 0.6, 1], ["slack_adjuster", 0.4, 0.6, 0], ["slack_adjuster", 0, 0.5, 0.5], ["slack_adjuster", 1, 0.5, 0.5]],
  ["Camshaft", "turn", ["camshaft", 0.5, 0.5, 0.7, true], ["camshaft", 0.5, 0.5, 0.4, true], ["camshaft_end", 0.5, 0.5, 0]],
  ["S-cam", "turn", ["s_cam", 0.5, 0.5, 0], ["s_cam", 0.5, 0.6, 0.3], ["s_cam", 0.5, 1, 0.5], ["s_cam", 0, 0.5, 1], ["s_cam", 1, 0.5, 1]],
  ["Roller", "spread", ["roller_left", 0.5, 0.5, 0], ["roller_left", 0.5, 1, 0.5], ["roller_right", 0.5, 0.5, 0], ["roller_right", 0.5, 1, 0.5], ["roller_left", 0.5, 0.5, 1], ["roller_right", 0.5, 0.5, 1]],
  ["Shoe", "spread", ["shoe_left_web", 1, 0.6, 0], ["shoe_right_web", 0, 0.6, 0], ["shoe_left_web", 0.1, 0.5, 0], ["shoe_right_web", 0.9, 0.5, 0], ["shoe_left_web", 0.1, 0.5, 1], ["shoe_right_web", 0.9, 0.5, 1]],
  ["Lining", "rub", ["lining_right", 0.98, 0.6, 0.5, true], ["lining_left", 0.02, 0.6, 0.5, true], ["lining_right", 1, 0.6, 0], ["lining_left", 0, 0.6, 0], ["lining_right", 1, 0.6, 1], ["lining_left", 0, 0.6, 1]],
  ["Drum", "hold", ["drum", 1, 0.5, 0], ["drum", 0, 0.5, 0], ["drum", 1, 0.5, 1], ["drum", 0, 0.5, 1]],
];

const EDGE = 10;
const LEAD = 14;

/** The labels over one canvas. */
export class Tags {
  constructor(svg, named) {
    Object.assign(this, {svg, named});
    svg.replaceChildren();
    this.tags = NAMES.map(([words, verb, ...places]) => this.#tag(words, verb, places.filter(([name]) => named[name])));
  }

  #tag(words, verb, places) {
    const group = draw(this.svg, "g", {class: `tag of-${verb}`});
    const line = draw(group, "path", {class: "tag-line"});
    const dot = draw(group, "circle", {r: 3.5, class: "tag-dot"});
    const text = draw(group, "text");
    say(text, words);
    const spots = places.map(([name, x, y, z, there = false]) => ({part: this.named[name], shares: [x, y, z], there}));
    return {words, group, line, dot, text, spots, at: spots[0]};
  }

  /** Choose for each name the first place that is seen: `sees(place, part)`. */
  look(sees) {
    for (const tag of this.tags) tag.at = tag.spots.find((spot) => found(spot) && sees(inSpace(spot), spot.part)) ?? null;
  }

  /** Stand round a picture of a size; `pixel` says where a place in space is seen; no names at all unless `on`. */
  stand([width, height], pixel, on) {
    const shown = this.tags.filter(({at, group}) => {
      const named = on && at !== null && at.part.faces.visible && found(at);
      take(group, named);
      return named;
    });
    for (const tag of shown) [tag.x, tag.y] = pixel(inSpace(tag.at));
    const across = shown.toSorted((a, b) => a.x - b.x);
    const half = Math.ceil(across.length / 2);
    const letter = parseFloat(getComputedStyle(this.svg).fontSize) || 16;
    this.#column(across.slice(0, half), EDGE, "start", height, letter);
    this.#column(across.slice(half), width - EDGE, "end", height, letter);
  }

  /** Words one under the other in the order of what they name, as near to its height as they can be. */
  #column(tags, x, anchor, height, letter) {
    const step = 1.5 * letter;
    tags.sort((a, b) => a.y - b.y);
    const at = tags.map(({y}) => Math.min(Math.max(y, letter), height - letter));
    for (let i = 1; i < at.length; i += 1) at[i] = Math.max(at[i], at[i - 1] + step);
    for (let i = at.length - 1, low = height - 0.6 * letter; i >= 0; i -= 1, low -= step) at[i] = Math.min(at[i], low);
    tags.forEach((tag, i) => this.#put(tag, x, at[i], anchor, letter));
  }

  #put(tag, x, y, anchor, letter) {
    if (tag.letter !== letter) {
      tag.letter = letter;
      tag.long = tag.text.getComputedTextLength();
    }
    const way = anchor === "start" ? 1 : -1;
    const end = x + way * (tag.long + 5);
    put(tag.text, "text-anchor", anchor);
    put(tag.text, "x", r2(x));
    put(tag.text, "y", r2(y + 0.35 * letter));
    const bend = way * (tag.x - end) > LEAD ? `H${r2(end + way * LEAD)}` : "";
    put(tag.line, "d", `M${r2(end)} ${r2(y)}${bend}L${r2(tag.x)} ${r2(tag.y)}`);
    put(tag.dot, "cx", r2(tag.x));
    put(tag.dot, "cy", r2(tag.y));
  }
}

/** Find a spot's place on its part as it is formed and cut. Tells whether there is one. */
function found(spot) {
  const {part, shares, there} = spot;
  const of = `${part.formed} ${part.plane}`;
  if (spot.of === of) return spot.place !== null;
  const [low, high] = part.box;
  const [a, b, c] = low.map((value, k) => value + shares[k] * (high[k] - value));
  const corner = part.best((x, y, z) => -Math.hypot(x - a, y - b, z - c));
  Object.assign(spot, {of, place: there && corner ? [a, b, c] : corner});
  return spot.place !== null;
}

function inSpace({part, place}) {
  return carried(part.faces.matrix.elements, ...place);
}
