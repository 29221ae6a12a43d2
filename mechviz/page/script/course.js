/** Figures over time, joined by straight lines between samples that the solver gave. */

import {numbers} from "./interpolate.js";

function shorts(base64) {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  return new Float32Array(bytes.buffer);
}

/** From one sample to the next, what is less is rounding: MPa, mm or N. */
const FALL = 1e-5;

/** One scenario's columns. */
export class Course {
  constructor({time, columns, end}) {
    this.end = end;
    this.time = numbers(time);
    this.columns = Object.fromEntries(Object.entries(columns).map(([name, text]) => [name, shorts(text)]));
    this.row = 0;
    this.u = 0;
  }

  /** Stand at a time (s). */
  seek(at) {
    const {time} = this;
    let [low, high] = [0, time.length - 1];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (time[middle] <= at) low = middle;
      else high = middle;
    }
    this.row = low;
    this.u = Math.min(Math.max((at - time[low]) / (time[high] - time[low]), 0), 1);
    return this;
  }

  /** Whether a column's figure falls there. */
  falls(name) {
    const column = this.columns[name];
    return column[this.row + 1] < column[this.row] - FALL;
  }

  /** A column's figure there. */
  here(name) {
    const column = this.columns[name];
    const low = column[this.row];
    return low + this.u * (column[this.row + 1] - low);
  }
}
