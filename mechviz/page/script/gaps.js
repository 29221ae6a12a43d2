/** The clearance, truthfully: in a magnifier at a stated scale, and round the arc of both linings. */

import {draw, put, r2, say, show, write} from "./svg.js";
import {TOUCH} from "./touch.js";

/** Least room between words side by side, and from a figure to one below it, picture units. */
const BETWEEN = 12;
const BELOW = 25;

/** The greatest of some scales at which a gap (picture units) is no wider than the room for it. */
function fitting(times, gap, room) {
  return times.find((one) => gap * one <= room) ?? times.at(-1);
}

/**
 * The gap all round both linings: the brake straightened, cam end above, the drum left and right as in the picture. Both
 * linings stand upright beside their drum, enlarged across and not along; what is white between them is the gap.
 */
export class GapDiagram {
  constructor(group, place, facts, count) {
    Object.assign(this, facts.notes.gaps, {count, scale: place.scale, newest: NaN});
    const [x, y, width] = facts.layout.gaps;
    write(group, "gap round the linings", x, y + 22, {class: "mv-label mv-of-rub names"});
    this.words = write(group, "", x, y + 48);
    this.shoes = ["left", "right"].map((side) => this.#shoe(group, side, facts.sizes.leading));
    this.rows = ["cam end", "middle", "anchor end"].map((name, i) => (
      write(group, name, x + width / 2, this.levels[i], {"text-anchor": "middle", class: "mv-label mv-of-soft names"})));
  }

  #shoe(group, side, leading) {
    const left = side === "left";
    const wall = left ? this.left : this.right - this.drum;
    const height = this.bottom - this.top;
    draw(group, "rect", {class: "mv-section", x: wall, y: this.top, width: this.drum, height});
    const end = left ? "start" : "end";
    const kind = {"text-anchor": end, class: "mv-label mv-of-rub"};
    const inwards = left ? 1 : -1;
    const face = left ? this.left + this.drum : this.right - this.drum;
    const at = face + inwards * (this.spare + 8);
    const role = side === leading ? "leading" : "trailing";
    const names = [`${side}${this.shoe}, ${role}`, `${side}, ${role}`, role];
    const name = write(group, names[0], left ? this.left : this.right, this.bottom + 30, {...kind, class: `${kind.class} names`});
    return {
      name, names,
      side, inwards, face,
      body: draw(group, "path", {class: "mv-rub"}),
      line: draw(group, "path", {class: "mv-profile"}),
      values: this.levels.map((level) => write(group, "", at, level + 24, kind)),
    };
  }

  /** The letters have another width than before: words that would meet are set shorter or farther apart. */
  lettered() {
    const [one, other] = this.shoes;
    const room = this.right - this.left - BETWEEN;
    const fits = one.names.findIndex((_, i) => this.#wide(one.name, one.names[i]) + this.#wide(other.name, other.names[i]) <= room);
    for (const {name, names} of this.shoes) say(name, names.at(fits));
    this.form = null;
  }

  /** How wide some words are in a node. */
  #wide(node, words) {
    say(node, words);
    return node.getComputedTextLength();
  }

  /** Keep the figures of both sides apart: outwards where they would meet, one below the other where that is not enough. */
  #apart() {
    const form = this.shoes.flatMap(({values}) => values.map((node) => node.textContent.length)).join();
    if (form === this.form) return;
    this.form = form;
    const middle = 0.5 * (this.right - this.left);
    const wide = Math.max(...this.shoes.flatMap(({values}) => values.map((node) => node.getComputedTextLength())));
    const inside = Math.min(this.drum + this.spare + 8, middle - 0.5 * BETWEEN - wide);
    const below = inside < this.drum + this.spare;
    for (const {side, values} of this.shoes) {
      const at = Math.max(inside, this.drum + this.spare + 1);
      values.forEach((node, i) => {
        put(node, "x", r2(side === "left" ? this.left + at : this.right - at));
        put(node, "y", r2(this.#level(i, below) + 24 + (below && side === "right" ? BELOW : 0)));
      });
    }
    this.rows.forEach((node, i) => put(node, "y", r2(this.#level(i, below))));
  }

  /** The line of a row's name; the last row makes room for one more line. */
  #level(row, below) {
    return this.levels[row] - (below && row === 2 ? 0.75 * BELOW : 0);
  }

  /** Choose the scale from the greatest gap (mm) there is at the present settings. */
  rule(greatest) {
    const times = fitting(this.times, Math.max(greatest, 0.2) * this.scale, this.spare - this.lining);
    this.per = times * this.scale;
    say(this.words, `${times}× larger across`);
  }

  /** Show a state. */
  show(state, units) {
    for (const shoe of this.shoes) {
      const gaps = state.gaps[shoe.side];
      const surface = this.#surface(state.gapProfile[shoe.side], shoe, 0);
      const back = this.#surface(state.gapProfile[shoe.side], shoe, this.lining);
      put(shoe.line, "d", `M${surface.join("L")}`);
      put(shoe.body, "d", `M${surface.join("L")}L${back.reverse().join("L")}Z`);
      put(shoe.body, "class", gaps.least <= TOUCH ? "mv-rub-touch" : "mv-rub");
      [gaps.camEnd, gaps.middle, gaps.anchorEnd].forEach((gap, i) => say(shoe.values[i], units.gap(gap)));
    }
    this.#apart();
  }

  /** Points of a lining's surface, or so far behind it, from the anchor end up. */
  #surface(profile, {face, inwards}, behind) {
    const points = [];
    const last = this.count - 1;
    for (let i = 0; i <= last; i += 1) {
      const x = face + inwards * (Math.max(profile[i], 0) * this.per + behind);
      points.push(`${r2(x)} ${r2(this.bottom + ((this.top - this.bottom) * i) / last)}`);
    }
    return points;
  }
}

/** A window on the gap at the middle of the right lining, so many times larger than the picture. */
export class Magnifier {
  constructor(group, place, facts, greatest) {
    const {frame, drum, share, times, spot, words} = facts.notes.magnifier;
    const [x, y, width, height] = frame;
    Object.assign(this, {x, drum: x + width - drum, middle: y + 0.5 * height});
    const scale = fitting(times, greatest * place.scale, share * width);
    this.per = scale * place.scale;
    const [sx, sy] = [place.wheelX(facts.sizes.newRadius), place.wheelY(0)].map(r2);
    draw(group, "path", {class: "mv-leader", d: `M${x} ${y}L${sx} ${sy}L${x} ${y + height}`});
    draw(group, "circle", {class: "mv-spot", cx: sx, cy: sy, r: spot});
    this.lining = draw(group, "rect", {x, y, height, class: "mv-rub"});
    draw(group, "rect", {x: this.drum, y, width: drum, height, class: "mv-section"});
    this.span = draw(group, "line", {class: "mv-dimension", x2: this.drum, y1: r2(this.middle), y2: r2(this.middle)});
    draw(group, "rect", {class: "mv-frame", x, y, width, height});
    const low = y + height + 26;
    write(group, "lining", x + 2, low, {class: "mv-label mv-of-rub names"});
    write(group, "drum", x + width - 2, low, {class: "mv-label mv-of-hold names", "text-anchor": "end"});
    write(group, `${scale}× larger`, ...words);
    this.value = write(group, "", words[0], words[1] + 36, {class: "mv-figure mv-of-rub"});
  }

  /** Show a state. */
  show(state, units) {
    const gap = Math.max(state.gaps.right.middle, 0);
    const edge = Math.max(this.drum - gap * this.per, this.x + 6);
    put(this.lining, "width", r2(edge - this.x));
    put(this.lining, "class", gap <= TOUCH ? "mv-rub-touch" : "mv-rub");
    const wide = this.drum - edge;
    show(this.span, wide > 3);
    put(this.span, "x1", r2(edge));
    for (const end of ["marker-start", "marker-end"]) put(this.span, end, wide > 30 ? "url(#mv-dim-ink)" : "none");
    say(this.value, units.gap(gap));
    show(this.value, state.reason === 0);
  }
}
