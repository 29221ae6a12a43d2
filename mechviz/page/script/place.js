/** Where a point of a plane (mm) lies in the picture; the two planes share one scale and one camshaft height. */
export class Place {
  constructor({scale, wheel, arm, cam_distance: camDistance}) {
    this.scale = scale;
    this.wheel = wheel;
    this.arm = arm;
    this.drumY = wheel[1] + camDistance * scale;
  }

  /** Across, of a point in the brake plane. */
  wheelX(x) {
    return this.wheel[0] + x * this.scale;
  }

  /** Down, of a point in the brake plane. */
  wheelY(y) {
    return this.drumY - y * this.scale;
  }

  /** Across, of a point in the arm plane, which is drawn mirrored. */
  armX(x) {
    return this.arm[0] - x * this.scale;
  }

  /** Down, of a point in the arm plane. */
  armY(y) {
    return this.arm[1] - y * this.scale;
  }
}
