/** What pushes what: arrows that appear in the order of cause and effect, and the air behind the diaphragm. */

import {Arrow, arc, draw, put, r2, show} from "./svg.js";

/** Which verbs are at work in each phase of an application. */
const AT_WORK = {
  released: "",
  fills: "push",
  travels: "push turn spread",
  touches: "push turn spread",
  presses: "push turn spread rub",
  applied: "push turn spread rub",
  stopped: "push",
};

/** The arrows of one picture. */
export class Pushes {
  constructor(group, place, facts) {
    this.place = place;
    this.sizes = facts.sizes;
    const many = (verb, count) => Array.from({length: count}, () => new Arrow(group, verb));
    this.air = many("push", 3);
    this.rod = new Arrow(group, "push");
    this.turns = [0, 1].map(() => draw(group, "path", {class: "mv-force mv-line-turn", "marker-end": "url(#mv-force-turn)"}));
    this.rollers = many("spread", 2);
    this.linings = many("rub", 6);
    const hub = 0.36 * this.sizes.armLength * place.scale;
    put(this.turns[0], "d", arc(place.arm[0], place.arm[1], hub, -0.5, 0.5));
    put(this.turns[1], "d", arc(place.wheel[0], place.wheel[1], (this.sizes.tipRadius + 7) * place.scale, -1.95, -1.35));
  }

  /** Show a state in a phase; `share` is how much of the pressure asked for has come. */
  show(state, phase, share, touching) {
    const work = phase === "applied" && !touching ? AT_WORK.travels : AT_WORK[phase];
    this.#push(state, work.includes("push") && share > 0.01, share);
    for (const node of this.turns) show(node, work.includes("turn"));
    this.#spread(state, work.includes("spread"));
    this.#rub(work.includes("rub") && touching);
  }

  #push(state, shown, share) {
    const {place, sizes} = this;
    const length = 44 + 40 * share;
    const tip = place.armX(sizes.pivotStart + state.stroke) + 18;
    this.air.forEach((arrow, i) => {
      const y = place.armY(sizes.axisOffset + 42 * (i - 1));
      arrow.place(tip + length, y, tip, y, shown);
    });
    const [x, y] = [place.armX(state.pin.x), place.armY(state.pin.y)];
    const [far, near] = [x + 98 + length, x + 98];
    const slope = Math.tan(state.tilt);
    this.rod.place(far, y - slope * (far - x), near, y - slope * (near - x), shown && state.stroke > 0);
  }

  #spread(state, shown) {
    const {place} = this;
    for (const [i, side] of ["left", "right"].entries()) {
      const sense = i ? 1 : -1;
      const x = place.wheelX(sense * state.roller[side].x);
      const y = place.wheelY(state.roller[side].y);
      this.rollers[i].place(x, y, x + sense * 84, y + 10, shown);
    }
  }

  #rub(shown) {
    const {place, sizes} = this;
    this.linings.forEach((arrow, i) => {
      const angle = (i % 3 - 1) * 0.5 - 0.05;
      const sense = i < 3 ? -1 : 1;
      const [from, to] = [sizes.platform - 34, sizes.newRadius - 1];
      const at = (radius) => [place.wheelX(sense * radius * Math.cos(angle)), place.wheelY(radius * Math.sin(angle))];
      arrow.place(...at(from), ...at(to), shown);
    });
  }
}

/** The air behind the diaphragm: the fuller its colour, the higher the pressure. */
export class Air {
  constructor(plane, facts, before) {
    this.node = draw(plane, "path", {class: "air", "aria-hidden": "true"});
    plane.insertBefore(this.node, before);
    this.back = facts.airBack.map(([x, y]) => `L${r2(x)} ${r2(y)}`).join("");
  }

  /** Show pressure (share of the greatest one) behind a diaphragm's path. */
  show(diaphragm, share) {
    put(this.node, "d", `${diaphragm}${this.back}Z`);
    put(this.node, "opacity", (0.75 * Math.sqrt(Math.max(share, 0))).toFixed(3));
  }
}
