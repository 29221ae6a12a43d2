/**
 * The mark of a stroke, its shape that of the verdict: an open ring inside the limit, a ring on the line at it, a block
 * beyond it; dotted where nothing is judged.
 */

import {draw, put, r2, take} from "./svg.js";
import {VERDICTS} from "./verdict.js";

/** A mark that is one of the shapes; `half` its half width. */
export class Mark {
  constructor(parent, radius, half = radius) {
    this.node = draw(parent, "g", {class: "mark"});
    this.ring = draw(this.node, "ellipse", {rx: half, ry: radius, class: "mv-ring"});
    this.block = draw(this.node, "rect", {class: "mv-block", x: -half, y: -radius, width: 2 * half, height: 2 * radius});
  }

  /** Stand at a point in a verdict's shape. */
  place(x, y, verdict) {
    put(this.node, "transform", `translate(${r2(x)} ${r2(y)})`);
    if (verdict === this.verdict) return;
    this.verdict = verdict;
    const {shape} = VERDICTS[verdict];
    const [dotted, block] = [shape.startsWith("dotted"), shape.endsWith("block")];
    take(this.ring, !block);
    take(this.block, block);
    put(this.ring, "class", dotted ? "mv-ring mv-dots" : "mv-ring");
    put(this.block, "class", dotted ? "mv-ring mv-dots" : "mv-block");
  }
}
