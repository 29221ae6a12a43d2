/** The parts of the picture: one matrix a body a frame, and the shapes that deform, wear and grow. */

import {Poses, matrixText} from "./pose.js";
import {Frames, liningPath} from "./shapes.js";
import {draw, put} from "./svg.js";
import {touches} from "./touch.js";

/** Pictures made so far: each cuts its linings with a drum of its own. */
let made = 0;

/** Everything that moves in one drawing. */
export class Picture {
  constructor(svg, model, facts, motion) {
    this.model = model;
    this.sizes = facts.sizes;
    this.poses = new Poses(facts, motion);
    this.bodies = Object.keys(this.poses.matrices).map((body) => [body, [...svg.querySelectorAll(`[data-body="${body}"]`)]]);
    const shape = ([name, frames]) => [svg.querySelector(`#deform-${name}`), new Frames(frames)];
    this.byStroke = Object.entries(motion.byStroke).map(shape);
    this.byCam = Object.entries(motion.byCam).map(shape);
    this.linings = {left: svg.querySelector("#part-lining-left path"), right: svg.querySelector("#part-lining-right path")};
    this.drum = svg.querySelector("#part-drum path");
    this.bore = this.#ownBore(svg);
    this.heat = this.#ownHeat();
    this.span = [facts.cold, model.box.temperature[1]];
    this.drumDrawn = facts.drumDrawn;
    this.worn = NaN;
  }

  /** The circle that cuts the linings, under a name that no other picture on the page has. */
  #ownBore(svg) {
    made += 1;
    const clip = svg.querySelector("clipPath[id^=clip-drum]");
    for (const node of svg.querySelectorAll(`[clip-path="url(#${clip.id})"]`)) node.setAttribute("clip-path", `url(#clip-drum-${made})`);
    clip.id = `clip-drum-${made}`;
    return clip.querySelector("circle");
  }

  /** The heat, laid over the drum: the fuller its colour, the hotter. */
  #ownHeat() {
    return draw(this.drum.parentNode, "path", {class: "heat", d: this.drum.getAttribute("d"), "aria-hidden": "true"});
  }

  /** Show a state with its lining and its drum's temperature; a state that does not exist moves nothing. */
  show(state, {lining, temperature}) {
    this.#wear(lining);
    this.#heat(state.drumRadius, temperature);
    if (state.reason !== 0) return;
    const matrices = this.poses.from(state);
    for (const [body, nodes] of this.bodies) {
      const text = matrixText(matrices[body]);
      for (const node of nodes) put(node, "transform", text);
    }
    for (const [node, frames] of this.byStroke) put(node, "d", frames.path(state.stroke));
    for (const [node, frames] of this.byCam) put(node, "d", frames.path(state.camAngle));
    for (const [side, node] of Object.entries(this.linings)) {
      put(node, "class", touches(state.gaps[side]) ? "mv-rub mv-rub-touch" : "mv-rub");
    }
  }

  #wear(lining) {
    if (this.worn === lining) return;
    this.worn = lining;
    const surface = this.model.surface(lining);
    put(this.linings.left, "d", liningPath(this.sizes, surface, -1));
    put(this.linings.right, "d", liningPath(this.sizes, surface, 1));
  }

  /** The drum grows as a whole; at its true scale that is less than a line's width. */
  #heat(radius, temperature) {
    if (!Number.isFinite(radius)) return;
    const [cold, hottest] = this.span;
    const size = `scale(${(radius / this.drumDrawn).toFixed(6)})`;
    put(this.drum, "transform", size);
    put(this.heat, "transform", size);
    put(this.heat, "opacity", Math.max((temperature - cold) / (hottest - cold), 0).toFixed(3));
    put(this.bore, "r", radius.toFixed(3));
  }
}
