/** Whether anything has moved, or presses, as far as anyone could see: rounding and the last whiff of air do not count. */

/** A shorter stroke (mm) reads 0.00 in and is none. */
export const SEEN_STROKE = 0.1;

/** A lower pressure (MPa) reads 0 psi and is none. */
const SEEN_PRESSURE = 0.0035;

/** Whether the rod has moved. */
export function moved({stroke}) {
  return stroke > SEEN_STROKE;
}

/** Whether there is air in the chamber. */
export function airy({pressure}) {
  return pressure > SEEN_PRESSURE;
}
