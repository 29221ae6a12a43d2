/** The clearance, truthfully: in a magnifier at a stated scale, and round the lining's arc for both shoes. */

import {draw, put, r2, say, show, through, write} from "./svg.js";

const NICE = [1, 2, 5, 10];

/** The least of 1, 2, 5 times a power of ten that is not below a value. */
export function nice(value) {
  const power = 10 ** Math.floor(Math.log10(Math.max(value, 1e-9)));
  return NICE.find((one) => one * power >= value * 0.9999) * power;
}

/** The gap from the anchor end to the cam end of both linings. */
export class GapPlot {
  constructor(group, [x, y, width, height], count) {
    this.count = count;
    this.left = x + 20;
    this.right = x + width;
    this.top = y + 62;
    this.bottom = y + height - 66;
    this.most = 1;
    write(group, "gap round the lining", this.left, y + 26, {class: "mv-label mv-of-rub"});
    this.grid = draw(group, "path", {class: "mv-grid"});
    draw(group, "rect", {class: "mv-section", x: this.left, y: this.bottom, width: this.right - this.left, height: 22});
    this.ticks = [0, 1].map(() => write(group, "", this.left, 0, {class: "mv-label mv-soft"}));
    this.lines = {
      left: draw(group, "path", {class: "mv-profile"}),
      right: draw(group, "path", {class: "mv-profile mv-dashed"}),
    };
    this.names = {
      left: write(group, "left shoe ———", this.left, this.bottom + 52, {class: "mv-label mv-of-rub"}),
      right: write(group, "right shoe – – –", this.right, this.bottom + 52, {class: "mv-label mv-of-rub", "text-anchor": "end"}),
    };
    write(group, "anchor end", this.left, y + height + 14, {class: "mv-label mv-soft"});
    write(group, "cam end", this.right, y + height + 14, {class: "mv-label mv-soft", "text-anchor": "end"});
  }

  /** Choose the scale from the greatest gap (mm) there is at the present settings. */
  rule(greatest, units) {
    const unit = units.inside(1, "length");
    this.most = nice(Math.max(greatest, 0.2) / unit) * unit;
    const levels = [this.most, 0.5 * this.most];
    put(this.grid, "d", levels.map((gap) => `M${this.left} ${r2(this.down(gap))}H${this.right}`).join(""));
    levels.forEach((gap, i) => {
      put(this.ticks[i], "y", r2(this.down(gap) - 6));
      say(this.ticks[i], units.text(gap, "length", units.system === "inch" ? 3 : 2));
    });
  }

  /** Down, of a gap. */
  down(gap) {
    return this.bottom - (Math.max(gap, 0) / this.most) * (this.bottom - this.top);
  }

  /** Show a state. */
  show(state) {
    const step = (this.right - this.left) / (this.count - 1);
    for (const [side, node] of Object.entries(this.lines)) {
      const gaps = state.gapProfile[side];
      put(node, "d", through(this.count, (i) => this.left + i * step, (i) => this.down(gaps[i])));
    }
  }
}

/** A window on the gap at the middle of the right lining, so many times larger than the picture. */
export class Magnifier {
  constructor(group, [x, y, width, height], place, sizes, greatest) {
    this.box = {x: x + 74, y: y + 36, width: width - 88, height: height - 96};
    const {box} = this;
    this.drum = box.x + box.width - 92;
    this.times = Math.max(10, 10 * Math.floor((box.width - 190) / (greatest * place.scale) / 10));
    this.per = this.times * place.scale;
    const spot = [place.wheelX(sizes.newRadius), place.wheelY(0)];
    draw(group, "path", {class: "mv-leader", d: `M${r2(spot[0])} ${r2(spot[1])}L${box.x} ${box.y}M${r2(spot[0])} ${r2(spot[1])}L${box.x} ${box.y + box.height}`});
    draw(group, "circle", {class: "mv-spot", cx: r2(spot[0]), cy: r2(spot[1]), r: 7});
    this.lining = draw(group, "rect", {x: box.x, y: box.y, height: box.height, class: "mv-rub"});
    draw(group, "rect", {x: this.drum, y: box.y, width: 92, height: box.height, class: "mv-section"});
    draw(group, "rect", {class: "mv-frame", ...box});
    const low = box.y + box.height + 27;
    write(group, `${this.times} times larger`, box.x, box.y - 12);
    this.names = [
      write(group, "lining", box.x + 4, low, {class: "mv-label mv-of-rub"}),
      write(group, "drum", box.x + box.width, low, {class: "mv-label mv-of-hold", "text-anchor": "end"}),
    ];
    this.value = write(group, "", 0, low, {class: "mv-figure mv-of-rub", "text-anchor": "middle"});
  }

  /** Show a state. */
  show(state, units) {
    const gap = Math.max(state.gaps.right.middle, 0);
    const edge = Math.max(this.drum - gap * this.per, this.box.x + 6);
    put(this.lining, "width", r2(edge - this.box.x));
    put(this.lining, "class", gap <= 1e-3 ? "mv-rub mv-rub-touch" : "mv-rub");
    const text = units.gap(gap);
    put(this.value, "x", r2(Math.min((edge + this.drum) / 2, this.drum - 60)));
    say(this.value, text === "touches" ? text : `gap ${text}`);
    show(this.value, state.reason === 0);
  }
}
