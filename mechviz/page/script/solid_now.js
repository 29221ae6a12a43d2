/** The stroke with its verdict, and the arm's angle, in a corner of the solid view: the list of figures has them. */

import {say} from "./svg.js";

const SHOWN = ["stroke", "verdict", "arm-angle"];

/** The figures over one solid view. */
export class SolidNow {
  constructor(box, list) {
    this.pairs = SHOWN.map((name) => [box.querySelector(`[data-now=${name}]`), list.querySelector(`[data-figure=${name}]`)]);
  }

  /** Show what the list has now. */
  show() {
    for (const [here, there] of this.pairs) {
      say(here, there.textContent);
      if (here.className !== there.className) here.className = there.className;
    }
  }
}
