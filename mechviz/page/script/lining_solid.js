/** A shoe's lining as a solid: two blocks in the shoe's frame, as thick as the wear has left them at every place. */

import {reach} from "./shapes.js";

const PIECES = 8;

/** The lining of one side; `sense` 1 is the right one. Its `points` change with the wear, all else stays. */
export class LiningSolid {
  constructor(sizes, {span, gap}, sense) {
    Object.assign(this, {sizes, sense});
    this.at = [];
    this.normals = [];
    this.corners = [];
    this.edges = [];
    const {liningStart, liningEnd, newRadius} = sizes;
    const [middle, half] = [0.5 * (liningStart + liningEnd), (0.5 * gap) / newRadius];
    this.#block(liningStart, middle - half, span);
    this.#block(middle + half, liningEnd, span);
    this.points = new Float32Array(3 * this.at.length);
    this.normals = Float32Array.from(this.normals.flat());
  }

  /** Take the surface that the lining has worn to. */
  wear(surface) {
    const {platform} = this.sizes;
    this.at.forEach(([psi, outer, z], i) => {
      const radius = outer ? Math.max(platform, reach(surface, psi)) : platform;
      this.points.set([this.sense * radius * Math.sin(psi), -radius * Math.cos(psi), z], 3 * i);
    });
  }

  #block(from, to, [low, high]) {
    const psi = (i) => from + ((to - from) * i) / PIECES;
    for (let i = 0; i < PIECES; i += 1) {
      const [a, b] = [psi(i), psi(i + 1)];
      for (const outer of [true, false]) this.#face([[a, outer, low], [a, outer, high], [b, outer, high], [b, outer, low]], (p) => this.#out(p, outer ? 1 : -1));
      for (const z of [low, high]) {
        const face = this.#face([[a, false, z], [a, true, z], [b, true, z], [b, false, z]], () => [0, 0, z === low ? -1 : 1]);
        this.edges.push(face, face + 3, face + 1, face + 2);
      }
    }
    for (const [end, way] of [[from, -1], [to, 1]]) {
      const face = this.#face([[end, false, low], [end, true, low], [end, true, high], [end, false, high]], (p) => this.#along(p, way));
      for (let k = 0; k < 4; k += 1) this.edges.push(face + k, face + ((k + 1) % 4));
    }
  }

  /** A face of four corners; returns the number of its first one. Its corners go round so that it looks outward. */
  #face(corners, normal) {
    const first = this.at.length;
    this.at.push(...corners);
    const normals = corners.map(([psi]) => normal(psi));
    this.normals.push(...normals);
    const outward = this.#looks(corners, normals[0]);
    for (const [a, b, c] of [[0, 1, 2], [0, 2, 3]]) this.corners.push(first + a, first + (outward ? b : c), first + (outward ? c : b));
    return first;
  }

  #looks(corners, [nx, ny, nz]) {
    const {platform, newRadius} = this.sizes;
    const place = ([psi, outer, z]) => [this.sense * Math.sin(psi) * (outer ? newRadius : platform), -Math.cos(psi) * (outer ? newRadius : platform), z];
    const [a, b, c] = corners.map(place);
    const [ux, uy, uz] = b.map((value, k) => value - a[k]);
    const [vx, vy, vz] = c.map((value, k) => value - a[k]);
    return (uy * vz - uz * vy) * nx + (uz * vx - ux * vz) * ny + (ux * vy - uy * vx) * nz > 0;
  }

  #out(psi, way) {
    return [way * this.sense * Math.sin(psi), -way * Math.cos(psi), 0];
  }

  #along(psi, way) {
    return [way * this.sense * Math.cos(psi), way * Math.sin(psi), 0];
  }
}

/** Keep a shoe's rivets under its lining's surface: what the lining has worn off, their heads have too. */
export function sunk(points, sizes, surface) {
  const found = Float32Array.from(points);
  for (let i = 0; i < found.length; i += 3) {
    const radius = Math.hypot(points[i], points[i + 1]);
    const most = Math.max(sizes.platform, reach(surface, Math.atan2(Math.abs(points[i]), -points[i + 1])));
    if (radius <= most) continue;
    found[i] *= most / radius;
    found[i + 1] *= most / radius;
  }
  return found;
}
