/** Names of what moves, in a column on either side, each with a line to its part: they never lie on one another. */

import {draw, put, r2, say, take} from "./svg.js";

/** By a part's name: what it is called, and to which point of it its line goes. */
const NAMES = {
  pushrod: ["Pushrod", near(0.8, 0.5, 0.5)],
  slack_adjuster: ["Slack adjuster", near(0.5, 0.5, 0.5)],
  camshaft: ["Camshaft", near(0.5, 0.5, 0.8)],
  s_cam: ["S-cam", near(0.5, 0.5, 0)],
  roller_left: ["Roller", near(0.5, 0.5, 0)],
  shoe_left_platform: ["Shoe", outermost],
  lining_right: ["Lining", outermost],
  drum: ["Drum", outermost],
};

const EDGE = 10;
const LEAD = 14;

/** The labels over one canvas. */
export class Tags {
  constructor(svg, parts) {
    this.svg = svg;
    svg.replaceChildren();
    this.tags = parts.filter(({name}) => NAMES[name]).map((part) => this.#tag(part));
  }

  #tag(part) {
    const [words, place] = NAMES[part.name];
    const group = draw(this.svg, "g", {class: `tag of-${part.verb}`});
    const line = draw(group, "path", {class: "tag-line"});
    const dot = draw(group, "circle", {r: 3.5, class: "tag-dot"});
    const text = draw(group, "text", {});
    say(text, words);
    return {part, group, line, dot, text, place};
  }

  /** Stand round a picture of a size; `pixel` says where a place in space is seen, `visible` whether a part is shown. */
  stand([width, height], pixel, visible) {
    const shown = this.tags.filter((tag) => {
      const on = visible(tag.part) && this.#anchored(tag);
      take(tag.group, on);
      return on;
    });
    for (const tag of shown) [tag.x, tag.y] = pixel(this.#anchor(tag));
    const across = shown.toSorted((a, b) => a.x - b.x);
    const half = Math.ceil(across.length / 2);
    const letter = parseFloat(getComputedStyle(this.svg).fontSize) || 16;
    this.#column(across.slice(0, half), EDGE, "start", height, letter);
    this.#column(across.slice(half), width - EDGE, "end", height, letter);
  }

  /** Find the place of a part that its line goes to, in the part's frame. Tells whether there is one. */
  #anchored(tag) {
    const {part, place} = tag;
    const of = `${part.formed} ${part.plane}`;
    if (tag.of !== of) Object.assign(tag, {of, anchor: place(part)});
    return tag.anchor !== null;
  }

  /** The same place in space. */
  #anchor({part, anchor}) {
    const {elements: m} = part.faces.matrix;
    const [x, y, z] = anchor;
    return [0, 1, 2].map((k) => m[k] * x + m[4 + k] * y + m[8 + k] * z + m[12 + k]);
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
    const end = x + (anchor === "start" ? tag.long + 5 : -tag.long - 5);
    const bend = end + (anchor === "start" ? LEAD : -LEAD);
    put(tag.text, "text-anchor", anchor);
    put(tag.text, "x", r2(x));
    put(tag.text, "y", r2(y + 0.35 * letter));
    put(tag.line, "d", `M${r2(end)} ${r2(y)}H${r2(bend)}L${r2(tag.x)} ${r2(tag.y)}`);
    put(tag.dot, "cx", r2(tag.x));
    put(tag.dot, "cy", r2(tag.y));
  }
}

/** Finds the point of a part's surface that is nearest to a place in its box, given by shares. */
function near(...shares) {
  return (part) => {
    const [low, high] = part.box;
    const [a, b, c] = low.map((value, k) => value + shares[k] * (high[k] - value));
    return part.best((x, y, z) => -Math.hypot(x - a, y - b, z - c));
  };
}

/** The point of a part's surface that lies farthest out to its side. */
function outermost(part) {
  return part.best((x) => Math.abs(x));
}
