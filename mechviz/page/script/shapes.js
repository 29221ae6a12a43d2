/** The shapes that change: the deforming ones between their frames, the linings as they wear, the drum as it heats. */

import {r2} from "./svg.js";

/** Frames of a line with a fixed number of points, each point moving straight from one frame to the next. */
export class Frames {
  constructor({low, high, frames, count, points}) {
    const bytes = Uint8Array.from(atob(points), (letter) => letter.charCodeAt(0));
    this.points = new Float32Array(bytes.buffer);
    this.low = low;
    this.step = (high - low) / (frames - 1);
    this.most = frames - 2;
    this.count = count;
    this.now = new Float64Array(2 * count);
  }

  /** The points, x and y by turns, at a value of what the shape follows; the same array every time. */
  at(value) {
    const place = (value - this.low) / this.step;
    const node = Math.min(Math.max(Math.floor(place), 0), this.most);
    const u = place - node;
    const size = 2 * this.count;
    const first = node * size;
    const {points, now} = this;
    for (let i = 0; i < size; i += 1) now[i] = points[first + i] + u * (points[first + size + i] - points[first + i]);
    return now;
  }

  /** Path data at a value. */
  path(value) {
    const now = this.at(value);
    let data = "";
    for (let i = 0; i < now.length; i += 2) data += `${i ? "L" : "M"}${r2(now[i])} ${r2(now[i + 1])}`;
    return data;
  }
}

const PIECES = 72;

/**
 * The right lining on its shoe in the reference pose: from the platform's arc to the arc that it has worn to. Where it
 * is worn through it has no thickness. `sense` -1 gives the left one.
 */
export function liningPath(sizes, surface, sense) {
  const {platform, liningStart, liningEnd} = sizes;
  const psi = (i) => liningStart + ((liningEnd - liningStart) * i) / PIECES;
  const point = (radius, angle) => `${r2(sense * radius * Math.sin(angle))} ${r2(-radius * Math.cos(angle))}`;
  const inner = [];
  const outer = [];
  for (let i = 0; i <= PIECES; i += 1) {
    inner.push(point(platform, psi(i)));
    outer.unshift(point(Math.max(platform, reach(surface, psi(i))), psi(i)));
  }
  return `M${inner.join("L")}L${outer.join("L")}Z`;
}

/** How far from the drum's centre, on the ray at `psi`, the lining's surface lies. */
export function reach({x, y, radius}, psi) {
  const [sine, cosine] = [Math.sin(psi), Math.cos(psi)];
  const aside = x * cosine + y * sine;
  return x * sine - y * cosine + Math.sqrt(radius * radius - aside * aside);
}
