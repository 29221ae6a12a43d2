/** The parking section behind the chamber: its power spring caged by the air, or on its way out. */

import {Frames} from "./shapes.js";
import {Arrow, draw, put, r2, say, take, write} from "./svg.js";

const SWAPPED = ["chamber-pressure", "air-port"];

/** The section in one drawing; it is there only while it is looked at. */
export class Section {
  constructor(svg, data, place, facts) {
    Object.assign(this, {svg, data, place, facts});
    const plane = svg.querySelector("#plane-arm");
    this.group = draw(plane, "g", {id: "parking-section"});
    plane.insertBefore(this.group, plane.querySelector("#part-studs"));
    this.air = draw(this.group, "path", {class: "air", "aria-hidden": "true"});
    this.parts = Object.fromEntries(data.parts.filter(({name}) => !SWAPPED.includes(name)).map((part) => [part.name, this.#part(part)]));
    this.frames = Object.entries(data.frames).map(([name, frames]) => [this.parts[name], new Frames(frames)]);
    this.swapped = data.parts.filter(({name}) => SWAPPED.includes(name)).map(({name, d}) => {
      const node = svg.querySelector(`#part-${name} path`);
      return {node, with: d, without: node.getAttribute("d")};
    });
    this.notes = draw(svg, "g", {id: "note-parking"});
    this.arrow = new Arrow(this.notes, "push");
    this.name = write(this.notes, "power spring", 0, 0, {class: "mv-label"});
    this.fit(false);
  }

  #part({name, title, verb, d}) {
    const line = name === "power-spring" ? "mv-line-hold power-spring" : name === "parking-diaphragm" ? "mv-line-push mv-sheet" : null;
    const group = draw(this.group, "g", {class: `part verb-${verb}`, id: `part-${name}`});
    draw(group, "title").textContent = title;
    return draw(group, "path", {d, class: line ?? `mv-${verb === "hold" ? "section" : verb}`});
  }

  /** Put the section on the chamber, or take it off. */
  fit(on) {
    for (const node of [this.group, this.notes]) take(node, on);
    for (const one of this.swapped) put(one.node, "d", on ? one.with : one.without);
    for (const node of this.svg.querySelectorAll("#note-labels text")) if (node.textContent === "diaphragm") take(node, !on);
    if (!on) return;
    const box = this.group.getBBox();
    const {place, facts} = this;
    this.middle = box.x + 0.3 * box.width;
    const port = this.svg.querySelector("#part-air-port").getBBox();
    put(this.name, "x", r2(place.armX(port.x) + 12));
    put(this.name, "y", r2(place.armY(box.y) + 24));
    this.edge = place.armX(box.x) + 40;
    this.y = place.armY(facts.sizes.axisOffset);
  }

  /** Stand with the spring's plate so far out (mm), its line's air at a share of full, the spring pushing or not. */
  stand(out, share, pushes) {
    for (const [node, frames] of this.frames) put(node, "d", frames.path(out));
    put(this.parts["parking-plate"], "transform", `translate(${r2(out)} 0)`);
    const [low, high] = this.data.floor.map(([x, y]) => `L${r2(x)} ${r2(y)}`);
    put(this.air, "d", `${this.parts["parking-diaphragm"].getAttribute("d")}${low}${high}Z`);
    put(this.air, "opacity", (0.75 * Math.sqrt(Math.max(share, 0))).toFixed(3));
    const x = this.place.armX(this.middle);
    this.arrow.place(x, this.y, x - 74, this.y, pushes);
    say(this.name, pushes ? "power spring pushes" : "power spring, held back");
  }
}
