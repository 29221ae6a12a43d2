/** What pushes what: arrows that appear in the order of cause and effect, and the air behind the diaphragm. */

import {moved} from "./moved.js";
import {Arrow, arc, draw, put, r2, show} from "./svg.js";
import {touches} from "./touch.js";

/** Which verbs are at work in each phase of an application. */
const AT_WORK = {
  released: "",
  fills: "push",
  travels: "push turn spread",
  touches: "push turn spread",
  presses: "push turn spread rub",
  strains: "push turn",
  slack: "push",
  applied: "push turn spread rub",
  stopped: "push",
};

/** Share of an arrow's length at the least pressure that pushes. */
const LEAST = 0.55;

const NONE = [false, false, false];

/** At which of its end, middle and other end a lining touches; in one of them where it does so in between. */
export function rubbing(gaps, near) {
  if (!touches(gaps)) return NONE;
  const known = [gaps.anchorEnd, gaps.middle, gaps.camEnd];
  const least = Math.max(near, Math.min(...known));
  return known.map((gap) => gap <= least);
}

/** The arrows of one picture. */
export class Pushes {
  constructor(group, place, facts) {
    this.place = place;
    this.sizes = facts.sizes;
    this.notes = facts.notes.pushes;
    const {hub, hubEnds, camBelow, camEnds, air, rubAt} = this.notes;
    const many = (verb, count) => Array.from({length: count}, () => new Arrow(group, verb));
    this.air = many("push", air.length);
    this.rod = new Arrow(group, "push");
    this.turns = [0, 1].map(() => draw(group, "path", {class: "mv-force mv-line-turn", "marker-end": "url(#mv-force-turn)"}));
    this.rollers = many("spread", 2);
    this.linings = {left: many("rub", rubAt.length), right: many("rub", rubAt.length)};
    const reach = [hub * this.sizes.armLength, this.sizes.tipRadius + camBelow].map((long) => long * place.scale);
    const ways = (...arcs) => [arcs, arcs.map(([centre, radius, ends]) => [centre, radius, [...ends].reverse()])];
    this.arcs = ways([place.arm, reach[0], hubEnds], [place.wheel, reach[1], camEnds])
      .map((arcs) => arcs.map(([centre, radius, ends]) => arc(...centre, radius, ...ends)));
  }

  /**
   * Show a state in a phase; `share` is how much of the pressure asked for has come. On the way `back` the springs do
   * the work: rod, arm, cam and shoes go the other way, and no air pushes.
   */
  show(state, phase, {share, touching, back, rod = share}) {
    const work = !moved(state) ? (phase === "fills" ? "push" : "") : phase === "applied" && !touching ? AT_WORK[state.held ? "strains" : "travels"] : AT_WORK[phase];
    const push = work.includes("push");
    this.#push(state, push && !back && share > 0.01, LEAST + (1 - LEAST) * share);
    this.#rod(state, push && (back || rod > 0.01) && moved(state), LEAST + (1 - LEAST) * (back ? 0 : rod), back);
    this.turns.forEach((node, i) => {
      put(node, "d", this.arcs[back ? 1 : 0][i]);
      show(node, work.includes("turn"));
    });
    this.#spread(state, work.includes("spread"), back && !work.includes("rub"));
    this.#rub(state, work.includes("rub"));
  }

  /** On the plate, from the air behind the diaphragm. */
  #push(state, shown, grown) {
    const {place, sizes, notes} = this;
    const plate = place.armX(sizes.pivotStart + state.stroke + notes.plateBack);
    const tail = Math.min(plate + notes.airLong + 6, place.armX(notes.chamberBack) - 4);
    this.air.forEach((arrow, i) => {
      const y = place.armY(sizes.axisOffset + notes.air[i]);
      arrow.place(tail, y, tail - grown * notes.airLong, y, shown);
    });
  }

  /** Along the rod, between clevis and chamber. */
  #rod(state, shown, grown, back) {
    const {place, sizes, notes} = this;
    const [x, y] = [place.armX(state.pin.x), place.armY(state.pin.y)];
    const near = x + notes.rodFrom * sizes.armLength * place.scale;
    const far = near + grown * notes.rodLong;
    const slope = Math.tan(state.tilt);
    const ends = [[far, y + slope * (far - x)], [near, y + slope * (near - x)]];
    const [from, to] = back ? ends.reverse() : ends;
    this.rod.place(...from, ...to, shown);
  }

  /** From each roller's centre along its shoe's way out; on the way back towards it. */
  #spread(state, shown, back) {
    const {place, sizes, notes} = this;
    for (const [i, side] of ["left", "right"].entries()) {
      const sense = i ? 1 : -1;
      const {x, y} = state.roller[side];
      const out = Math.atan2(y - sizes.anchor[1], x - sizes.anchor[0]) - Math.PI / 2;
      const [tx, ty] = [place.wheelX(sense * x), place.wheelY(y)];
      const ends = [[tx, ty], [tx + sense * notes.spreadLong * Math.cos(out), ty - notes.spreadLong * Math.sin(out)]];
      const [from, to] = back ? ends.reverse() : ends;
      this.rollers[i].place(...from, ...to, shown);
    }
  }

  /** Across each lining that touches, out on to the drum, where it does. */
  #rub(state, shown) {
    const {place, sizes, notes} = this;
    for (const [side, sense] of [["left", -1], ["right", 1]]) {
      const rubs = shown ? rubbing(state.gaps[side], notes.near) : NONE;
      this.linings[side].forEach((arrow, i) => {
        const angle = notes.rubAt[i];
        const at = (radius) => [place.wheelX(sense * radius * Math.cos(angle)), place.wheelY(radius * Math.sin(angle))];
        arrow.place(...at(sizes.platform - notes.rubFrom), ...at(sizes.newRadius), rubs[i]);
      });
    }
  }
}

/** The air behind the diaphragm: the fuller its colour, the higher the pressure. */
export class Air {
  constructor(plane, facts, before) {
    this.node = draw(plane, "path", {class: "air air-service", "aria-hidden": "true"});
    plane.insertBefore(this.node, before);
    this.back = facts.airBack.map(([x, y]) => `L${r2(x)} ${r2(y)}`).join("");
  }

  /** Show pressure (share of the greatest one) behind a diaphragm's path. */
  show(diaphragm, share) {
    put(this.node, "d", `${diaphragm}${this.back}Z`);
    put(this.node, "opacity", (0.75 * Math.sqrt(Math.max(share, 0))).toFixed(3));
  }
}
