/** A diaphragm as a solid: its middle line turned about the chamber's centreline, arm plane, as thick as it is. */

const AROUND = 20;

/** Of the line's points, every so manieth is enough. */
const EVERY = 4;

/** One diaphragm. `points` and `normals` change with what its `frames` follow, all else stays. */
export class SheetSolid {
  constructor(frames, axis, thick) {
    Object.assign(this, {frames, axis, half: 0.5 * thick});
    this.taken = taken(frames.count / 2);
    this.count = this.taken.length + 1;
    const size = 2 * this.count * AROUND;
    this.points = new Float32Array(3 * size);
    this.normals = new Float32Array(3 * size);
    this.corners = [];
    this.edges = [];
    this.#join();
  }

  /** Stand as the frames do at a value. */
  stand(value) {
    const line = this.frames.at(value);
    const {count, half, axis} = this;
    for (let k = 0; k < count; k += 1) {
      const [x, y] = this.#middle(line, k);
      const [nx, ny] = this.#square(line, k);
      const out = half * this.#mitre(line, k);
      for (const side of [0, 1]) {
        const way = side ? -1 : 1;
        const radius = Math.max(k === count - 1 ? 0 : y - axis + way * out * ny, 0);
        this.#ring(side * count + k, x + way * out * nx, radius, way * nx, way * ny);
      }
    }
  }

  /** A point of the middle line from the rim to the centreline. */
  #middle(line, k) {
    const {taken, axis} = this;
    return k < taken.length ? [line[2 * taken[k]], line[2 * taken[k] + 1]] : [line[2 * taken.at(-1)], axis];
  }

  /** The direction square to the line at a point, between those of the pieces before and after; +x where it is upright. */
  #square(line, k) {
    const [a, b] = [this.#across(line, k - 1), this.#across(line, k)];
    const length = Math.hypot(a[0] + b[0], a[1] + b[1]) || 1;
    return [(a[0] + b[0]) / length, (a[1] + b[1]) / length];
  }

  /** How much farther than half the sheet a point of its surface lies out where the line bends, for all to be as thick. */
  #mitre(line, k) {
    const [a, b] = [this.#across(line, k), this.#square(line, k)];
    return 1 / Math.max(a[0] * b[0] + a[1] * b[1], 0.5);
  }

  /** The direction square to the piece of the line that starts at a point. */
  #across(line, k) {
    const first = Math.min(Math.max(k, 0), this.count - 2);
    const [x1, y1] = this.#middle(line, first);
    const [x2, y2] = this.#middle(line, first + 1);
    const length = Math.hypot(x2 - x1, y2 - y1) || 1;
    return [(y1 - y2) / length, (x2 - x1) / length];
  }

  #ring(row, x, radius, nx, ny) {
    for (let j = 0; j < AROUND; j += 1) {
      const at = 3 * (row * AROUND + j);
      const [c, s] = [Math.cos((2 * Math.PI * j) / AROUND), Math.sin((2 * Math.PI * j) / AROUND)];
      this.points.set([x, this.axis + radius * c, radius * s], at);
      this.normals.set([nx, ny * c, ny * s], at);
    }
  }

  /** Both sides of the sheet, and its rim. */
  #join() {
    const {count} = this;
    for (let k = 0; k < count - 1; k += 1) this.#band(k, k + 1);
    for (let k = 0; k < count - 1; k += 1) this.#band(count + k + 1, count + k);
    this.#band(count, 0);
  }

  #band(from, to) {
    for (let j = 0; j < AROUND; j += 1) {
      const next = (j + 1) % AROUND;
      const [a, b, c, d] = [from * AROUND + j, from * AROUND + next, to * AROUND + next, to * AROUND + j];
      this.corners.push(a, b, c, a, c, d);
    }
  }
}

/** Which of a half's points stand: the rim and the fold's own beginning and end always. */
function taken(half) {
  const places = [0, 1];
  for (let k = 1 + EVERY; k < half - 1; k += EVERY) places.push(k);
  return [...places, half - 1];
}
