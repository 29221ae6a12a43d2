/**
 * Where every body stands in space, as mechviz/solid/frames.py has it: the drawing's own matrices carried into space.
 * A matrix is sixteen numbers, column by column, mm: from the body's own frame to the brake's (+x right, +y towards the
 * camshaft, +z along the shaft to the chamber).
 */

const WHEEL = ["cam", "shoe_left", "shoe_right", "roller_left", "roller_right"];
const ARM = ["arm", "clevis_pin", "clevis", "pushrod", "plate"];
const OWN = ["ground_wheel", "ground_arm", "shoe_return_spring", "chamber_return_spring", "power_spring", "parking_plate"];

const FLAT = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

/** The matrices of one brake's bodies, filled anew for each state. */
export class Bodies {
  constructor(space) {
    this.space = space;
    this.plane = columns(space.armPlane);
    this.matrices = Object.fromEntries([...WHEEL, ...ARM, ...OWN].map((body) => [body, new Float64Array(16)]));
    place(this.matrices.ground_wheel, FLAT, 1, 0, 0, 1, 0, 0);
    place(this.matrices.ground_arm, this.plane, 1, 0, 0, 1, 0, 0);
  }

  /** Fill every matrix from the drawing's (six numbers a body), the stroke, and how far the parking plate is `out`, mm. */
  from(drawn, stroke, out) {
    const {matrices, plane, space} = this;
    for (const body of WHEEL) place(matrices[body], FLAT, ...drawn[body]);
    for (const body of ARM) place(matrices[body], plane, ...drawn[body]);
    const [x, y] = space.eye;
    const {lengths, chamberSpring, powerSpring} = space;
    stretch(matrices.shoe_return_spring, FLAT, carried(drawn.shoe_left, -x, y), carried(drawn.shoe_right, x, y), lengths.shoe_return_spring);
    stretch(matrices.chamber_return_spring, plane, moved(chamberSpring[0], stroke), chamberSpring[1], lengths.chamber_return_spring);
    stretch(matrices.power_spring, plane, moved(powerSpring[0], out), powerSpring[1], lengths.power_spring);
    place(matrices.parking_plate, plane, 1, 0, 0, 1, out, 0);
    return matrices;
  }
}

/** Sixteen numbers row by row, as columns. */
function columns(rows) {
  return Float64Array.from(rows, (_, i) => rows[4 * (i % 4) + Math.floor(i / 4)]);
}

/** Carry what a drawing's matrix(a b c d e f) does in a plane into space. */
function place(into, plane, a, b, c, d, e, f) {
  for (let i = 0; i < 4; i += 1) {
    const [p, q] = [plane[i], plane[4 + i]];
    into[i] = p * a + q * b;
    into[4 + i] = p * c + q * d;
    into[8 + i] = plane[8 + i];
    into[12 + i] = p * e + q * f + plane[12 + i];
  }
}

/** Carry what lies along x from 0 to `length` to between two places of a plane. */
function stretch(into, plane, [x1, y1], [x2, y2], length) {
  const reach = Math.hypot(x2 - x1, y2 - y1);
  const [cosine, sine] = [(x2 - x1) / reach, (y2 - y1) / reach];
  const share = reach / length;
  place(into, plane, share * cosine, share * sine, -sine, cosine, x1, y1);
}

function carried([a, b, c, d, e, f], x, y) {
  return [a * x + c * y + e, b * x + d * y + f];
}

function moved([x, y], by) {
  return [x + by, y];
}
