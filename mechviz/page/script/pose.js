/**
 * A rigid transform for every moving body from one interpolated state, as geometry/pose_table.py makes it: six numbers
 * in the order of SVG's matrix(a b c d e f), mm, +y up, from the body's own frame to its plane's.
 */

import {Grid} from "./interpolate.js";

/** Every body that moves. */
export const BODIES = ["cam", "shoe_left", "shoe_right", "roller_left", "roller_right", "arm", "clevis_pin", "clevis",
  "pushrod", "plate"];

/** The transforms of one brake's bodies, filled anew for each state. */
export class Poses {
  constructor(facts, motion) {
    this.sizes = facts.sizes;
    this.roll = new Grid(motion.roll);
    this.matrices = Object.fromEntries(BODIES.map((body) => [body, new Float64Array(6)]));
  }

  /** Fill every matrix from a state of the model. */
  from(state) {
    const {cam, shoe_left: left, shoe_right: right} = this.matrices;
    turned(cam, Math.cos(state.camAngle), Math.sin(state.camAngle), 0, this.sizes.camDistance);
    this.#shoe(left, state.shoeTurn.left, -1);
    this.#shoe(right, state.shoeTurn.right, 1);
    this.#rollers(state);
    this.#arm(state);
    return this.matrices;
  }

  /** A turn about the anchor pin: clockwise for the right shoe, which opens to +x, the other way for the left one. */
  #shoe(matrix, turn, sense) {
    const x = sense * this.sizes.anchor[0];
    const y = this.sizes.anchor[1];
    const cosine = Math.cos(turn);
    const sine = -sense * Math.sin(turn);
    turned(matrix, cosine, sine, x - (x * cosine - y * sine), y - (x * sine + y * cosine));
  }

  #rollers(state) {
    const {roll} = this;
    const {roller_left: left, roller_right: right} = this.matrices;
    roll.seek(state.camAngle);
    const [a, b] = [roll.left.here(), roll.right.here()];
    turned(left, Math.cos(a), Math.sin(a), -state.roller.left.x, state.roller.left.y);
    turned(right, Math.cos(b), Math.sin(b), state.roller.right.x, state.roller.right.y);
  }

  #arm({pin, stroke}) {
    const {arm, clevis, clevis_pin: bolt, pushrod, plate} = this.matrices;
    const {axisOffset, pivotStart} = this.sizes;
    const reach = Math.hypot(pin.x, pin.y);
    const x = pivotStart + stroke;
    const length = Math.hypot(pin.x - x, pin.y - axisOffset);
    const cosine = (pin.x - x) / length;
    const sine = (pin.y - axisOffset) / length;
    turned(arm, pin.y / reach, -pin.x / reach, 0, 0);
    turned(clevis, cosine, sine, pin.x, pin.y);
    turned(bolt, cosine, sine, pin.x, pin.y);
    turned(pushrod, cosine, sine, x, axisOffset);
    turned(plate, 1, 0, x, axisOffset);
  }
}

/** Turn by an angle about the body's origin, and carry that to (x, y). */
function turned(matrix, cosine, sine, x, y) {
  matrix[0] = cosine;
  matrix[1] = sine;
  matrix[2] = -sine;
  matrix[3] = cosine;
  matrix[4] = x;
  matrix[5] = y;
}

/** A matrix as an attribute: turns to a millionth, places to a ten-thousandth of a millimetre. */
export function matrixText(m) {
  const turn = (value) => Math.round(value * 1e6) / 1e6;
  const place = (value) => Math.round(value * 1e4) / 1e4;
  return `matrix(${turn(m[0])} ${turn(m[1])} ${turn(m[2])} ${turn(m[3])} ${place(m[4])} ${place(m[5])})`;
}
