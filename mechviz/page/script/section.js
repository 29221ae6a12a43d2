/** The parking section behind the chamber: its power spring caged by the air, or on its way out. */

import {Frames} from "./shapes.js";
import {Arrow, draw, put, r2, say, write} from "./svg.js";

/** The arrow: its tail, in shares of the section's width, and its length, picture units. */
const PUSH = {at: 0.7, long: 74};

/** The section in one drawing; in all but what lets its air off, it is held back. */
export class Section {
  constructor(svg, data, facts) {
    const plane = svg.querySelector("#plane-arm");
    this.air = draw(plane, "path", {class: "air", "aria-hidden": "true"});
    plane.insertBefore(this.air, plane.querySelector("#part-power-spring"));
    this.plate = plane.querySelector("#part-parking-plate path");
    this.diaphragm = plane.querySelector("#part-parking-diaphragm path");
    this.notes = draw(svg, "g", {id: "note-parking"});
    this.arrow = new Arrow(this.notes, "push");
    this.name = write(this.notes, "", 0, 0, {class: "mv-label mv-of-hold"});
    this.plane = plane;
    this.fit(data, facts);
  }

  /** Stand behind the chamber of another brake. */
  fit(data, facts) {
    const [x, y, width, height] = facts.layout.parked;
    const [right, down] = facts.notes.parking.name;
    this.floor = data.floor;
    this.frames = Object.entries(data.frames).map(([name, frames]) => [this.plane.querySelector(`#part-${name} path`), new Frames(frames)]);
    put(this.name, "x", r2(x + right));
    put(this.name, "y", r2(y + height + down));
    this.tail = [x + PUSH.at * width, y + 0.5 * height];
    this.rest();
  }

  /** The spring all the way back, as full air holds it. */
  rest() {
    this.stand(0, 1, false);
  }

  /** Stand with the spring's plate so far out (mm), its line's air at a share of full, the spring pushing or not. */
  stand(out, share, pushes) {
    this.out = out;
    for (const [node, frames] of this.frames) put(node, "d", frames.path(out));
    put(this.plate, "transform", `translate(${r2(out)} 0)`);
    const [low, high] = this.floor.map(([x, y]) => `L${r2(x)} ${r2(y)}`);
    put(this.air, "d", `${this.diaphragm.getAttribute("d")}${low}${high}Z`);
    put(this.air, "opacity", (0.75 * Math.sqrt(Math.max(share, 0))).toFixed(3));
    const [x, y] = this.tail;
    this.arrow.place(x, y, x - PUSH.long, y, pushes);
    say(this.name, pushes ? "power spring pushes" : "power spring, held back");
  }
}
