/** Notes at the mechanism itself: the rule along the pushrod, the arm's angle by a square corner, the cam's turn. */

import {arc, draw, put, r2, say, set, write} from "./svg.js";

const DEGREE = Math.PI / 180;

/** The rule along the pushrod, at the picture's scale, with the limit as a stop line across it. */
export class StrokeRule {
  constructor(group, place, facts, pinX) {
    this.place = place;
    this.start = place.armX(pinX);
    this.y = place.armY(1.2 * facts.sizes.armLength) - 14;
    this.limit = facts.limit;
    this.rated = facts.sizes.ratedStroke;
    this.ticks = draw(group, "path", {class: "mv-dimension"});
    const stop = this.start - this.limit.stroke * place.scale;
    draw(group, "line", {class: "mv-heavy mv-stop", x1: stop, x2: stop, y1: this.y + 12, y2: this.y - 26});
    this.words = write(group, "", stop, this.y - 34, {"text-anchor": "middle"});
    this.leader = draw(group, "line", {class: "mv-leader"});
    this.pointer = draw(group, "path", {class: "mv-push", d: "M0 2l-8 14h16z"});
  }

  /** Rule in another system of units. */
  rule(units) {
    const inch = units.system === "inch";
    const step = (inch ? 25.4 / 4 : 10) * this.place.scale;
    const {start, y} = this;
    let d = `M${start} ${y}H${r2(start - this.rated * this.place.scale)}`;
    for (let i = 0; i * step <= this.rated * this.place.scale + 0.01; i += 1) {
      const tall = i % (inch ? 4 : 5) === 0 ? 13 : 7;
      d += `M${r2(start - i * step)} ${y}v${-tall}`;
    }
    put(this.ticks, "d", d);
    say(this.words, `limit ${inch ? this.limit.inches : units.text(this.limit.stroke, "length")}`);
  }

  /** Point at the stroke of a state. */
  show(state) {
    const x = r2(this.start - state.stroke * this.place.scale);
    put(this.pointer, "transform", `translate(${x} ${this.y})`);
    put(this.leader, "x1", x);
    put(this.leader, "x2", r2(this.place.armX(state.pin.x)));
    put(this.leader, "y1", this.y + 16);
    put(this.leader, "y2", r2(this.place.armY(state.pin.y) - 22));
  }
}

/** The arm's angle at the clevis pin, beside a true square corner. */
export class ArmAngle {
  constructor(group, place, facts) {
    this.place = place;
    this.most = place.armX(-facts.sizes.faceDistance) - 176;
    this.moving = draw(group, "g");
    this.square = draw(this.moving, "path", {class: "mv-dimension mv-square", d: "M0 0H96M30 0V-30H0"});
    this.sweep = draw(group, "path", {class: "mv-angle"});
    this.value = write(group, "", 0, 0, {class: "mv-figure mv-of-turn", id: "value-arm-angle"});
    this.words = write(group, "", 0, 0, {class: "mv-label mv-of-turn mv-aside"});
  }

  /** Show a state. */
  show(state, units) {
    const [x, y] = [this.place.armX(state.pin.x), this.place.armY(state.pin.y)];
    const rod = -state.tilt;
    const arm = rod - state.armAngle;
    const square = rod - Math.PI / 2;
    put(this.moving, "transform", `translate(${r2(x)} ${r2(y)}) rotate(${r2(-square / DEGREE)})`);
    put(this.sweep, "d", arc(x, y, 62, rod, arm));
    const middle = rod - state.armAngle / 2;
    const vx = Math.min(x + 84 * Math.cos(middle), this.most);
    const vy = y - 84 * Math.sin(middle) + 12;
    put(this.value, "x", r2(vx));
    put(this.value, "y", r2(vy));
    put(this.words, "x", r2(vx));
    put(this.words, "y", r2(vy + 27));
    say(this.value, units.text(state.armAngle, "angle"));
    say(this.words, stands(state.armAngle));
  }
}

/** Where the arm stands, to a whole degree as an angle gauge tells it. */
export function stands(angle) {
  const off = Math.round(angle / DEGREE - 90);
  if (off === 0) return "square";
  return off > 0 ? `${off}° to square` : `${-off}° past square`;
}

/** The cam's turn from released: two rays from the camshaft, named above the drum. */
export class CamTurn {
  constructor(group, place, facts) {
    this.centre = place.wheel;
    const [x, y] = this.centre;
    const top = place.wheelY(facts.drumOuter);
    this.long = (facts.sizes.tipRadius - 1) * place.scale;
    draw(group, "path", {class: "mv-leader", d: `M${x} ${r2(top - 12)}V${y}`});
    this.ray = draw(group, "path", {class: "mv-angle mv-thin", d: `M${x} ${y}V${r2(y - this.long)}`});
    this.sweep = draw(group, "path", {class: "mv-angle"});
    this.words = write(group, "", x, r2(top - 20), {"text-anchor": "middle", class: "mv-label mv-of-turn"});
    this.words.append("S-cam ");
    this.value = draw(this.words, "tspan", {id: "value-cam-turn", class: "mv-of-turn"});
  }

  /** Show a state. */
  show(state, units) {
    const [x, y] = this.centre;
    put(this.ray, "transform", `rotate(${r2(-state.camTurn / DEGREE)} ${x} ${y})`);
    put(this.sweep, "d", arc(x, y, 0.86 * this.long, Math.PI / 2, Math.PI / 2 + state.camTurn));
    say(this.value, `turned ${units.text(state.camTurn, "angle")}`);
  }
}

/** Names of the parts that stay where they are, and the camshaft's line across both planes. Returns the drum's. */
export function partNames(group, place, facts) {
  const {sizes} = facts;
  const name = (text, x, y, anchor, more = "") => write(group, text, r2(x), r2(y), {"text-anchor": anchor, class: `mv-label ${more}`});
  const lead = (d) => draw(group, "path", {class: "mv-leader", d});
  const [cx] = place.wheel;
  const roller = cx - 0.5 * facts.rollerSpread * place.scale - 20;
  const top = place.wheelY(facts.drumOuter);
  name("roller", roller - 70, top - 20, "end", "mv-of-spread");
  lead(`M${r2(roller - 76)} ${r2(top - 12)}L${r2(roller)} ${r2(place.wheel[1] - 12)}`);
  const inner = (sizes.platform - 78) * place.scale;
  name("shoe", cx - inner + 24, place.wheelY(-0.36 * sizes.newRadius), "start", "mv-of-spread");
  const low = place.wheelY(-facts.drumOuter);
  const side = cx - facts.drumOuter * place.scale;
  const drum = name("", side, low - 4, "start", "mv-of-rub");
  lead(`M${r2(side + 40)} ${r2(low - 26)}L${r2(cx - 0.735 * facts.drumOuter * place.scale)} ${r2(place.wheelY(-0.645 * facts.drumOuter))}`);
  name("anchor pins", cx, place.wheelY(-sizes.newRadius) - 14, "middle", "mv-of-hold");
  name("slack adjuster", place.arm[0], place.armY(-0.42 * sizes.armLength), "middle", "mv-of-turn");
  name("camshaft", 0.5 * (cx + 0.7 * facts.drumOuter * place.scale + place.arm[0] - 0.4 * sizes.armLength * place.scale), place.arm[1] - 8, "middle", "mv-of-turn");
  const rod = place.armX(-0.7 * sizes.faceDistance);
  name("pushrod", rod, place.armY(sizes.axisOffset) - 30, "middle", "mv-of-push");
  name("chamber", place.armX(-sizes.faceDistance - 38), place.armY(facts.chamberBottom) + 30, "middle", "mv-of-hold");
  return drum;
}

/** The camshaft's centre line across both planes: one shaft. */
export function shaftLine(group, place) {
  const line = draw(group, "line");
  set(line, {class: "mv-centre", x1: place.wheel[0] - 60, x2: place.arm[0] + 70, y1: place.wheel[1], y2: place.wheel[1]});
}
