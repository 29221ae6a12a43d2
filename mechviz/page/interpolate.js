/**
 * Every state of a brake from the table that mechviz/page/table.py solved beforehand, by interpolation alone.
 *
 *     import {open} from "./interpolate.js";
 *     const model = open(table);                                  // the table, parsed from its JSON
 *     const now = model.state({pressure, lining, temperature, setting});
 *     model.state(sliders, now);                                  // the next frame, into the same object
 *
 * Figures are in the units used inside: mm, rad, N, N*mm, MPa, K. What does not exist is NaN. Each state carries a
 * reason code: 0 where it exists, otherwise why it cannot; `model.reasons` has their names and words. Positions on a
 * shoe are in its outward frame: origin at the drum's centre, +y to the camshaft, +x towards the shoe's own side.
 *
 * Nothing is interpolated across a kink: springs lifted, first contact, both linings seated and chamber bottomed are
 * found by comparing, as the solver does, and the root of each regime is searched inside the regime.
 *
 * @typedef {{pressure: number, lining: number, temperature: number, setting: number}} Pressed
 *     MPa at the chamber, mm of lining at mid arc, K of the drum, rad of the cam when released.
 * @typedef {{stroke: number, lining: number, temperature: number, setting: number}} Moved
 *     mm of stroke; the rest as above.
 */

/** Turn base64 into the little-endian float64 numbers that it holds. */
export function numbers(base64) {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  return new Float64Array(bytes.buffer);
}

/** How far a variable may lie past a grid's end by rounding alone. */
const SPARE = 1e-9;

/** Five-point differences at the first, second and third of five nodes: exact for a quartic. */
const STENCILS = [[-25, 48, -36, 16, -3], [-3, -10, 18, -6, 1], [1, -8, 0, 8, -1]];

/** Slope of a column at each of its nodes, per node. */
function slopes(nodes) {
  const last = nodes.length - 1;
  return nodes.map((_, i) => {
    const back = i > last - 2;
    const row = STENCILS[Math.min(i, last - i, 2)];
    const start = back ? last : Math.max(i - 2, 0);
    let sum = 0;
    for (let k = 0; k < 5; k += 1) sum += row[k] * nodes[back ? start - k : start + k];
    return (back ? -sum : sum) / 12;
  });
}

/** One column of a grid, read at the place where the grid stands. */
class Column {
  constructor(grid, values) {
    this.grid = grid;
    this.values = values;
    this.slopes = slopes(values);
  }

  /** The value at the grid's place. */
  here() {
    const {node, u} = this.grid;
    const low = this.values[node];
    const rise = this.values[node + 1] - low;
    const start = this.slopes[node];
    const end = this.slopes[node + 1];
    return low + u * (start + u * (3 * rise - 2 * start - end + u * (start + end - 2 * rise)));
  }

  /** Its slope there, per unit of the grid's variable. */
  slopeHere() {
    const {node, u} = this.grid;
    const rise = this.values[node + 1] - this.values[node];
    const start = this.slopes[node];
    const end = this.slopes[node + 1];
    return (start + u * (2 * (3 * rise - 2 * start - end) + 3 * u * (start + end - 2 * rise))) / this.grid.step;
  }
}

/** Columns over evenly spaced nodes. NaN outside of them: nothing is extrapolated or clamped. */
export class Grid {
  constructor({low, high, count, columns}) {
    this.low = low;
    this.high = high;
    this.step = (high - low) / (count - 1);
    this.most = count - 2;
    this.node = 0;
    this.u = 0;
    for (const [name, base64] of Object.entries(columns)) this[name] = new Column(this, numbers(base64));
  }

  /** Stand at a value of the variable. */
  seek(x) {
    const place = (x - this.low) / this.step;
    this.node = Math.min(Math.max(Math.floor(place), 0), this.most) | 0;
    this.u = x >= this.low - SPARE && x <= this.high + SPARE ? place - this.node : NaN;
    return this;
  }
}

/** Columns over an even mesh of two variables, joined by straight lines both ways; NaN outside. */
class Sheet {
  constructor({first, second, count, columns}) {
    this.down = new Grid({low: first[0], high: first[1], count: count[0], columns: {}});
    this.across = new Grid({low: second[0], high: second[1], count: count[1], columns: {}});
    this.width = count[1];
    for (const [name, base64] of Object.entries(columns)) this[name] = numbers(base64);
  }

  /** Stand at a value of each variable. */
  seek(first, second) {
    this.down.seek(first);
    this.across.seek(second);
    return this;
  }

  /** A column's value there. */
  here(column) {
    const at = this.down.node * this.width + this.across.node;
    const {u} = this.across;
    const near = column[at] + u * (column[at + 1] - column[at]);
    const below = at + this.width;
    const far = column[below] + u * (column[below + 1] - column[below]);
    return near + this.down.u * (far - near);
  }
}

/** The share of pressure times area that reaches the pushrod: straight lines between knots. */
class Thrust {
  constructor({stroke, share}) {
    this.strokes = numbers(stroke);
    this.shares = numbers(share);
    this.share = 0;
    this.slope = 0;
  }

  /** Stand at a stroke (mm): sets the share and its slope (1/mm). */
  seek(stroke) {
    const {strokes, shares} = this;
    let low = 0;
    let high = strokes.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (strokes[middle] <= stroke) low = middle;
      else high = middle;
    }
    const slope = (shares[high] - shares[low]) / (strokes[high] - strokes[low]);
    const beyond = stroke >= strokes[high];
    this.slope = beyond ? 0 : slope;
    this.share = beyond ? shares[high] : shares[low] + slope * (stroke - strokes[low]);
    return this;
  }
}

/** What a function gives to `bracketedRoot`: its value and its slope. One is enough: it is read at once. */
const slot = {value: 0, slope: 0};

/**
 * The root of a function that is not above 0 at `low` and not below 0 at `high`; NaN where the ends do not bracket one.
 * Newton's method; a step that leaves the bracket or does not halve the step before last becomes a halving instead.
 */
function bracketedRoot(fill, low, high, guess, tolerance) {
  fill(low);
  if (!(slot.value <= 0)) return NaN;
  fill(high);
  if (!(slot.value >= 0)) return NaN;
  let x = Math.min(Math.max(guess, low), high);
  let last = high - low;
  let before = last;
  for (let i = 0; i < 200; i += 1) {
    fill(x);
    const {value, slope} = slot;
    if (value <= 0) low = x;
    if (value >= 0) high = x;
    const step = value / slope;
    const newton = x - step;
    const inside = newton >= low - tolerance && newton <= high + tolerance;
    const good = inside && Math.abs(step) <= 0.5 * before && !(step === 0 && value !== 0);
    const next = good ? Math.min(Math.max(newton, low), high) : 0.5 * (low + high);
    before = last;
    last = Math.abs(next - x);
    x = next;
    if (!(last > tolerance)) break;
  }
  return x;
}

/** The lesser of two numbers, the other one where one is NaN. */
function lesser(a, b) {
  return a < b || Number.isNaN(b) ? a : b;
}

/** A brake as its table tells it. Made by `open`. */
class Model {
  constructor(table) {
    this.box = table.box;
    this.found = table.found;
    this.limits = table.limits;
    this.reasons = table.reasons;
    this.positions = Float64Array.from(table.positions);
    this.constants = table.constants;
    this.arm = new Grid(table.arm);
    this.cam = new Grid(table.cam);
    this.shoe = new Grid(table.shoe);
    this.circle = new Grid(table.surface);
    this.longShoe = new Sheet(table.longShoe);
    this.thrust = new Thrust(table.thrust);
    this.code = Object.fromEntries(Object.entries(table.reasons).map(([name, {code}]) => [name, code]));
    const {INPUT_MISSING, BELOW_ABSOLUTE_ZERO, NOT_POSITIVE, OUTSIDE_TABLE} = this.code;
    this.early = [INPUT_MISSING, BELOW_ABSOLUTE_ZERO, NOT_POSITIVE, OUTSIDE_TABLE];
    this.#prepare();
  }

  #prepare() {
    const count = this.positions.length;
    const {anchor} = this.constants;
    this.sines = this.positions.map(Math.sin);
    this.cosines = this.positions.map(Math.cos);
    this.pointX = new Float64Array(count);
    this.pointY = new Float64Array(count);
    this.apart = Math.hypot(anchor[0], anchor[1]);
    this.homeward = Math.atan2(-anchor[0], -anchor[1]);
    this.touch = {lining: NaN, temperature: NaN, reason: 0, drumRadius: NaN, turn: NaN, left: NaN, right: NaN,
      first: NaN, seat: NaN, x: NaN, y: NaN, reach: NaN, bearing: NaN};
    this.pressure = NaN;
    this.setting = NaN;
    this.start = NaN;
    this.spring = NaN;
    this.wanted = NaN;
    this.torqueSlope = NaN;
    this.pressedExcess = (turn) => this.#pressedExcess(turn);
    this.liftedExcess = (turn) => this.#liftedExcess(turn);
    this.strokeExcess = (turn) => this.#strokeExcess(turn);
  }

  /** An empty state to be filled by `state` or `atStroke`. */
  blank() {
    const pair = () => ({left: NaN, right: NaN});
    const gaps = () => ({anchorEnd: NaN, middle: NaN, camEnd: NaN, least: NaN});
    const profile = () => new Float64Array(this.positions.length).fill(NaN);
    return {
      reason: 0,
      pressure: NaN,
      stroke: NaN,
      armTurn: NaN,
      armAngle: NaN,
      tilt: NaN,
      lever: NaN,
      pin: {x: NaN, y: NaN},
      camAngle: NaN,
      camTurn: NaN,
      contactTurn: NaN,
      contactStroke: NaN,
      drumRadius: NaN,
      shoeTurn: pair(),
      roller: {left: {x: NaN, y: NaN}, right: {x: NaN, y: NaN}},
      gaps: {left: gaps(), right: gaps()},
      gapProfile: {left: profile(), right: profile()},
      chamberForce: NaN,
      camshaftTorque: NaN,
      brakeTorque: NaN,
      rollerForce: pair(),
    };
  }

  /**
   * The state that a chamber pressure holds.
   *
   * `stroke`, `contactStroke` (first lining touches), `lever` (stroke for a turn), `pin` (clevis pin, arm plane),
   * `roller` centres and gaps in mm, turns and angles in rad, forces in N, torques in N*mm. `gapProfile` has a gap for
   * each of `model.positions`. There is no chamber force before the pushrod moves, and no roller force and brake torque
   * before contact. A state that cannot exist is NaN but for its reason, and for where contact would be.
   * @param {Pressed} at
   */
  state(at, into = this.blank()) {
    const reason = this.#unmet(this.#meet(at, at.pressure, at.pressure < 0, into)) || this.#settingFault();
    into.reason = reason || (this.start > this.limits.lastTurn ? this.code.BOTTOMED : 0);
    const turn = into.reason === 0 ? this.#appliedTurn(at.pressure) : NaN;
    into.reason ||= Number.isNaN(turn) ? this.code.LINKAGE_OPEN : this.#pastTip(turn);
    into.pressure = Number.isFinite(at.pressure) ? at.pressure : NaN;
    return this.#fill(into, turn, into.pressure);
  }

  /**
   * The state at a stroke, with the pressure and forces that hold the brake there: for moving the picture by hand.
   * At stroke 0 any pressure up to the one that lifts the springs does, so none is told; nor is one where the linings
   * cannot touch, or where no pressure would be enough.
   * @param {Moved} at
   */
  atStroke(at, into = this.blank()) {
    const unmet = this.#meet(at, at.stroke, false, into);
    into.reason = this.#strokeFault(at.stroke, unmet);
    const turn = into.reason === 0 ? this.turnAtStroke(at.stroke) : NaN;
    into.reason ||= this.#pastTip(turn);
    return this.#fill(into, turn, NaN);
  }

  /** Where the linings meet the drum: shoe turn, cam angles `left`, `right`, `first`, `seat` (rad); or why not. */
  contact({lining, temperature}) {
    const {reason, drumRadius, turn, left, right, first, seat} = this.#contact(lining, temperature);
    return {reason, drumRadius, turn, left, right, first, seat};
  }

  /** The stroke (mm) at which the first lining touches; NaN where there is none. */
  freeStroke({setting, lining, temperature}) {
    return this.strokeAtTurn(this.#contact(lining, temperature).first - setting);
  }

  /** The setting (rad) with which the first lining touches after a stroke (mm). */
  settingForFreeStroke({freeStroke, lining, temperature}) {
    return this.#contact(lining, temperature).first - this.turnAtStroke(freeStroke);
  }

  /** Least and greatest setting (rad) with which the linings can touch: cam at heel or chamber bottomed; no slack. */
  settingRange({lining, temperature}) {
    const {first} = this.#contact(lining, temperature);
    return [Math.max(this.limits.heelAngle, first - this.limits.lastTurn), first];
  }

  /** Least and greatest lining thickness (mm) on the page that the cam can bring to the drum. */
  liningRange(temperature) {
    const [least, most] = this.box.lining;
    const worn = ({turn}) => turn > this.limits.tipTurn;
    const roomy = ({turn}) => turn >= this.limits.heelTurn;
    return [this.#edge(least, most, temperature, worn), this.#edge(least, most, temperature, roomy)];
  }

  /** The circle of the lining's surface, the shoe in its reference pose: centre and radius, mm. */
  surface(lining) {
    this.circle.seek(lining);
    const reach = this.circle.reach.here();
    const bearing = this.circle.bearing.here();
    const {anchor, surfaceRadius} = this.constants;
    return {x: anchor[0] + reach * Math.sin(bearing), y: anchor[1] + reach * Math.cos(bearing), radius: surfaceRadius};
  }

  /** Stroke (mm) at an arm turn (rad); NaN before released and past what the table covers. */
  strokeAtTurn(turn) {
    return this.arm.seek(turn).stroke.here();
  }

  /** Arm turn (rad) at a stroke (mm); NaN before released and past what the table covers. */
  turnAtStroke(stroke) {
    const {values} = this.arm.stroke;
    const last = values[values.length - 1];
    if (!(stroke >= -SPARE && stroke <= last + SPARE)) return NaN;
    if (stroke <= Math.max(values[0], 0)) return 0;
    if (stroke >= last) return this.arm.high;
    this.wanted = stroke;
    return bracketedRoot(this.strokeExcess, 0, this.arm.high, (this.arm.high * stroke) / last, 1e-13);
  }

  #strokeExcess(turn) {
    this.arm.seek(turn);
    slot.value = this.arm.stroke.here() - this.wanted;
    slot.slope = this.arm.stroke.slopeHere();
  }

  /** The thickness, within a range, below which `holds` is true of the contact. */
  #edge(least, most, temperature, holds) {
    if (!holds(this.#contact(least, temperature))) return least;
    if (holds(this.#contact(most, temperature))) return most;
    let [low, high] = [least, most];
    while (high - low > 1e-9) {
      const middle = 0.5 * (low + high);
      if (holds(this.#contact(middle, temperature))) low = middle;
      else high = middle;
    }
    return high;
  }

  /** Leave one shoe of the state that was worked out last where the linings first touch: it is kept on the drum. */
  keep(into, side) {
    if (into.shoeTurn[side] < this.touch.turn) this.#place(into, side, this.touch.turn);
  }

  /** Take a state's condition in, with one `more` figure of it. The reason why contact is not possible; 0 if it is. */
  #meet({lining, temperature, setting}, more, negative, into) {
    const {code} = this;
    const {isFinite} = Number;
    const known = isFinite(lining) && isFinite(temperature) && isFinite(setting) && isFinite(more);
    const at = this.#contact(lining, temperature);
    this.setting = setting;
    this.start = known ? at.first - setting : NaN;
    into.contactTurn = this.start;
    into.contactStroke = this.strokeAtTurn(this.start);
    into.drumRadius = at.drumRadius;
    if (!known) return code.INPUT_MISSING;
    if (temperature < 0) return code.BELOW_ABSOLUTE_ZERO;
    return lining <= 0 || negative ? code.NOT_POSITIVE : at.reason;
  }

  /** Why there is no contact: a chamber whose stroke ends before the cam's tip has bottomed, however far the drum is. */
  #unmet(reason) {
    const bottomed = reason === this.code.CAM_PAST_TIP && this.setting + this.limits.lastTurn < this.limits.tipAngle;
    return bottomed ? this.code.BOTTOMED : reason;
  }

  /** Where the linings meet the drum. Kept until thickness or temperature change. */
  #contact(lining, temperature) {
    const at = this.touch;
    if (at.lining === lining && at.temperature === temperature) return at;
    const {drumRadius, drumGrowth, drumReference} = this.constants;
    at.lining = lining;
    at.temperature = temperature;
    at.drumRadius = drumRadius * (1 + drumGrowth * (temperature - drumReference));
    this.#layOut(at, lining);
    const last = this.positions.length - 1;
    const ends = lesser(this.#endTurn(0, at.drumRadius), this.#endTurn(last, at.drumRadius));
    at.turn = lesser(ends, this.#tangentTurn(at));
    this.shoe.seek(at.turn);
    at.left = this.shoe.leftAngle.here();
    at.right = this.shoe.rightAngle.here();
    at.first = Math.min(at.left, at.right);
    at.seat = Math.max(at.left, at.right);
    at.reason = this.#unreached(at);
    return at;
  }

  /** Why a contact is off the cam: no room where it is below the heel, no reach where it is above the tip. */
  #unreached(at) {
    if (Number.isNaN(this.circle.u)) return this.code.OUTSIDE_TABLE;
    if (at.turn >= this.shoe.low - 1e-13 && at.turn <= this.shoe.high + 1e-13) return 0;
    const outer = this.constants.platformRadius + at.lining;
    const worn = Number.isNaN(at.turn) ? at.drumRadius > outer : at.turn > 0.5 * (this.shoe.low + this.shoe.high);
    return worn ? this.code.CAM_PAST_TIP : this.code.LINING_TOO_THICK;
  }

  /** The lining's surface on the shoe in its reference pose: its circle and its points at all positions. */
  #layOut(at, lining) {
    const {anchor, surfaceRadius} = this.constants;
    this.circle.seek(lining);
    at.reach = this.circle.reach.here();
    at.bearing = this.circle.bearing.here();
    at.x = anchor[0] + at.reach * Math.sin(at.bearing);
    at.y = anchor[1] + at.reach * Math.cos(at.bearing);
    for (let i = 0; i < this.positions.length; i += 1) {
      const along = at.x * this.sines[i] - at.y * this.cosines[i];
      const aside = at.x * this.cosines[i] + at.y * this.sines[i];
      const reach = along + Math.sqrt(surfaceRadius * surfaceRadius - aside * aside);
      this.pointX[i] = reach * this.sines[i];
      this.pointY[i] = -reach * this.cosines[i];
    }
  }

  /** The shoe turn that carries a point (`reach` from the anchor, towards `bearing`) to a radius about the drum. */
  #turnToRadius(reach, bearing, radius) {
    const excess = reach - this.apart;
    const versine = ((radius - excess) * (radius + excess)) / (4 * reach * this.apart);
    return this.homeward + 2 * Math.asin(Math.sqrt(versine)) - bearing;
  }

  #endTurn(index, radius) {
    const {anchor} = this.constants;
    const dx = this.pointX[index] - anchor[0];
    const dy = this.pointY[index] - anchor[1];
    return this.#turnToRadius(Math.sqrt(dx * dx + dy * dy), Math.atan2(dx, dy), radius);
  }

  /** The shoe turn at which the lining's circle meets the drum's from inside; NaN where that is not on the lining. */
  #tangentTurn(at) {
    const clearance = at.drumRadius - this.constants.surfaceRadius;
    if (!(clearance >= 0)) return NaN;
    const turn = this.#turnToRadius(at.reach, at.bearing, clearance);
    return Number.isNaN(this.#bulge(at, Math.cos(turn), Math.sin(turn))) ? NaN : turn;
  }

  /** The greatest distance of the posed lining from the drum's centre, mm; NaN where that is past the lining's ends. */
  #bulge(at, cosine, sine) {
    const [ax, ay] = this.constants.anchor;
    const x = ax + (at.x - ax) * cosine + (at.y - ay) * sine;
    const y = ay - (at.x - ax) * sine + (at.y - ay) * cosine;
    const off = Math.sqrt(x * x + y * y);
    if (!(off > 0)) return NaN;
    const grow = 1 + this.constants.surfaceRadius / off;
    const dx = x * grow - ax;
    const dy = y * grow - ay;
    const px = ax + dx * cosine - dy * sine;
    const py = ay + dx * sine + dy * cosine;
    const last = this.positions.length - 1;
    const started = px * this.cosines[0] + py * this.sines[0] >= 0;
    const ended = px * this.cosines[last] + py * this.sines[last] > 0;
    return started && !ended ? off + this.constants.surfaceRadius : NaN;
  }

  /** The arm's turn (rad) that a pressure holds, contact being in reach; NaN where the linkage opens before. */
  #appliedTurn(pressure) {
    const {lastTurn} = this.limits;
    this.pressure = pressure;
    this.spring = this.cam.seek(this.touch.first).springTorque.here();
    const torque = this.#chamberTorque(this.start);
    if (torque < this.spring) return this.#liftedTurn();
    const guess = this.start + (torque - this.spring) / this.constants.windup;
    return bracketedRoot(this.pressedExcess, this.start, lastTurn, guess, SPARE);
  }

  /** The turn before contact at which the springs hold the chamber; 0 where it does not lift them. */
  #liftedTurn() {
    this.#liftedExcess(0);
    if (slot.value >= 0) return 0;
    return bracketedRoot(this.liftedExcess, 0, this.start, 0.5 * this.start, 1e-15);
  }

  /** The chamber's torque on the camshaft (N*mm) at a turn; leaves its slope in `torqueSlope`. */
  #chamberTorque(turn) {
    const {area, springPreload, springRate} = this.constants;
    const {arm, thrust, pressure} = this;
    arm.seek(turn);
    const stroke = Math.min(arm.stroke.here(), this.limits.ratedStroke);
    const lever = arm.lever.here();
    thrust.seek(stroke);
    const force = pressure * area * thrust.share - springPreload - springRate * stroke;
    const forceSlope = pressure * area * thrust.slope - springRate;
    this.torqueSlope = forceSlope * lever * lever + force * arm.lever.slopeHere();
    return force * lever;
  }

  #pressedExcess(turn) {
    const torque = this.#chamberTorque(turn);
    slot.value = this.constants.windup * (turn - this.start) + this.spring - torque;
    slot.slope = this.constants.windup - this.torqueSlope;
  }

  #liftedExcess(turn) {
    const torque = this.#chamberTorque(turn);
    slot.value = this.cam.seek(this.setting + turn).springTorque.here() - torque;
    slot.slope = -this.torqueSlope;
  }

  /** Why there is no state at a stroke; contact that the cam cannot reach is no reason while the cam still turns. */
  #strokeFault(stroke, unmet) {
    const {code, limits} = this;
    if (this.early.includes(unmet)) return unmet;
    if (stroke < -SPARE) return code.BEHIND_RELEASED;
    if (stroke > limits.ratedStroke + SPARE) return code.BEYOND_RATED_STROKE;
    if (stroke > limits.lastStroke + SPARE) return code.LINKAGE_OPEN;
    return unmet === code.LINING_TOO_THICK ? unmet : this.#settingFault();
  }

  /** Why the brake cannot be released at its setting; 0 where it can. */
  #settingFault() {
    if (this.setting < this.limits.heelAngle - SPARE) return this.code.CAM_BELOW_HEEL;
    return this.start < -SPARE ? this.code.ADJUSTED_TOO_TIGHT : 0;
  }

  /** Why the cam cannot have turned so far; 0 where it can. */
  #pastTip(turn) {
    const head = lesser(this.setting + turn, this.touch.seat);
    return head > this.limits.tipAngle + SPARE ? this.code.CAM_PAST_TIP : 0;
  }

  /** Fill a state from the arm's turn; `pressure` NaN asks for the one that holds it. */
  #fill(into, turn, pressure) {
    const arms = into.reason === 0 ? turn : NaN;
    const head = lesser(this.setting + arms, Number.isNaN(arms) ? NaN : this.touch.seat);
    this.#fillArm(into, arms, head);
    this.#fillShoe(into, "left", head);
    this.#fillShoe(into, "right", head);
    return this.#fillForces(into, pressure);
  }

  #fillArm(into, turn, head) {
    const {armLength, armDirection} = this.constants;
    const {arm} = this;
    arm.seek(turn);
    into.armTurn = turn;
    into.stroke = arm.stroke.here();
    into.lever = arm.lever.here();
    into.armAngle = arm.armAngle.here();
    into.tilt = arm.tilt.here();
    into.pin.x = armLength * Math.cos(armDirection - turn);
    into.pin.y = armLength * Math.sin(armDirection - turn);
    into.camAngle = head;
    into.camTurn = head - this.setting;
  }

  #fillShoe(into, side, head) {
    this.#place(into, side, this.cam.seek(head)[side].here());
  }

  /** Put a shoe at a turn. */
  #place(into, side, turn) {
    const {anchor, rollerReach, rollerBearing} = this.constants;
    const roller = into.roller[side];
    into.shoeTurn[side] = turn;
    roller.x = anchor[0] + rollerReach * Math.sin(rollerBearing + turn);
    roller.y = anchor[1] + rollerReach * Math.cos(rollerBearing + turn);
    this.#fillGaps(into.gaps[side], into.gapProfile[side], Math.cos(turn), Math.sin(turn));
  }

  #fillGaps(gaps, profile, cosine, sine) {
    const [ax, ay] = this.constants.anchor;
    const {drumRadius} = this.touch;
    const last = profile.length - 1;
    for (let i = 0; i <= last; i += 1) {
      const dx = this.pointX[i] - ax;
      const dy = this.pointY[i] - ay;
      const x = ax + dx * cosine + dy * sine;
      const y = ay - dx * sine + dy * cosine;
      profile[i] = drumRadius - Math.sqrt(x * x + y * y);
    }
    gaps.anchorEnd = profile[0];
    gaps.middle = profile[last / 2];
    gaps.camEnd = profile[last];
    gaps.least = lesser(Math.min(profile[0], profile[last]), drumRadius - this.#bulge(this.touch, cosine, sine));
  }

  #fillForces(into, pressure) {
    const {efficiency, windup} = this.constants;
    const pressing = into.armTurn > this.start + SPARE;
    const useful = windup * Math.max(into.armTurn - this.start, 0);
    const left = this.#resistance("left", into.shoeTurn.left);
    const leftArm = this.shoe.momentArm.here();
    const right = this.#resistance("right", into.shoeTurn.right);
    // equal wear asks for equal drag on both shoes
    const drag = (efficiency * useful) / (leftArm * left + this.shoe.momentArm.here() * right);
    if (into.reason === 0 && pressing && Number.isNaN(drag)) return this.#lock(into, pressure);
    into.rollerForce.left = pressing ? drag * left : NaN;
    into.rollerForce.right = pressing ? drag * right : NaN;
    into.brakeTorque = pressing ? 2 * drag * this.touch.drumRadius : NaN;
    return this.#fillPush(into, pressing && Number.isNaN(drag) ? NaN : useful, pressure);
  }

  /** The leading shoe would hold itself on the drum: empty the state. */
  #lock(into, pressure) {
    into.reason = this.code.SHOE_LOCKS;
    return this.#fill(into, NaN, pressure);
  }

  /** Chamber force and camshaft torque at a pressure; where that is NaN, those that hold the state, and which does. */
  #fillPush(into, useful, pressure) {
    const {area, springPreload, springRate} = this.constants;
    const {share} = this.thrust.seek(into.stroke);
    const back = springPreload + springRate * into.stroke;
    const angle = lesser(this.setting + into.armTurn, this.touch.first);
    const held = (useful + this.cam.seek(angle).springTorque.here()) / into.lever;
    const asked = !Number.isNaN(pressure);
    const force = asked ? pressure * area * share - back : held;
    const moved = into.armTurn > 0 && (asked || share > 0);
    if (!asked) into.pressure = moved ? (held + back) / (area * share) : NaN;
    into.chamberForce = moved ? force : NaN;
    into.camshaftTorque = moved ? force * into.lever : NaN;
    return into;
  }

  /** Roller force over drag: the inverse of the shoe factor. Leaves the shoe's grid at the turn. NaN where it locks. */
  #resistance(side, turn) {
    const {friction, leading} = this.constants;
    const sense = side === leading ? 1 : -1;
    this.longShoe.seek(this.touch.lining, turn);
    this.shoe.seek(turn);
    const rubbing = this.touch.drumRadius - this.longShoe.here(this.longShoe.rubbing);
    const moment = this.longShoe.here(this.longShoe.normal) - sense * friction * rubbing;
    const lever = side === "left" ? this.shoe.leftLever.here() : this.shoe.rightLever.here();
    return moment > 0 ? moment / (friction * lever) : NaN;
  }
}

/** Make a model from a table (the object that its JSON parses to). */
export function open(table) {
  return new Model(table);
}
