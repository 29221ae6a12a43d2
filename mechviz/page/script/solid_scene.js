/** All solids of one brake: their forms, where they stand in a state, and how they are shown. */

import {Bodies} from "./bodies.js";
import {LiningSolid, sunk} from "./lining_solid.js";
import {Frames} from "./shapes.js";
import {SheetSolid} from "./sheet_solid.js";
import {SolidPart} from "./solid_part.js";
import {mixed} from "./tints.js";
import {touches} from "./touch.js";

/** Where a broken spring's gap is, as shares of its length. */
const GAP = [0.47, 0.6];

/** How much of the ground's colour the other parts take while one is talked about. */
const BEHIND = 0.6;

/** The drum takes so much of the linings' colour when it is as hot as can be set. */
const GLOW = 0.75;

/** A frame's radius, for most of what stands at its very edge is a box's empty corner. */
const FILLED = 0.78;

const SIDES = {left: -1, right: 1};

/** What hides the brake: shown as the drum is; and what hides the camshaft, never more than seen through then. */
const SHROUD = ["drum", "hub"];
const SLEEVE = "shaft_tube";

/** Planes of a cut through a part, by the cut's name: what is kept has x X + y Y + z Z + w > 0. Null cuts nothing off. */
export const CUTS = {
  none: () => null,
  open: (_, {open}, matrix) => open && opened(open, matrix),
  "across the drum": () => [0, 0, 1, 0],
  "along the shaft": () => [1, 0, 0, 0],
  "through the chamber": ({armPlane}) => [0, 0, -1, armPlane[11]],
};

/** The scene of one view. `surfaces` are those of the page's GLB file. */
export class SolidScene {
  constructor(three, stage, data, surfaces) {
    Object.assign(this, {stage, data, surfaces});
    this.parts = data.parts.map((about) => new SolidPart(three, about));
    this.named = Object.fromEntries(this.parts.map((part) => [part.name, part]));
    for (const {faces, edges} of this.parts) stage.scene.add(faces, edges);
    this.emphasis = [];
  }

  /** Take a brake: the one as found, or one with a defect. */
  fit(model, {facts, motion, section, solid}) {
    Object.assign(this, {model, facts});
    this.space = {...this.data.space, ...solid?.space};
    this.bodies = new Bodies(this.space);
    for (const part of this.parts) {
      const name = solid?.meshes?.[part.name] ?? part.name;
      if (part.made === "surface" && part.formed !== name) part.form(this.surfaces.get(name));
      part.formed = name;
    }
    this.#formed(motion, section);
    this.worn = NaN;
    this.boxes = this.broken = this.stands = null;
  }

  /** What changes its form with the state. */
  #formed(motion, section) {
    const {named, facts, space} = this;
    const {sizes} = facts;
    this.linings = Object.entries(SIDES).map(([side, sense]) => [side, new LiningSolid(sizes, space.lining, sense)]);
    for (const [side, lining] of this.linings) named[`lining_${side}`].form(lining);
    const sheet = (frames) => new SheetSolid(frames, sizes.axisOffset, space.sheet);
    this.sheet = sheet(new Frames(motion.byStroke.diaphragm));
    named.diaphragm.form(this.sheet);
    this.parked = named.parking_diaphragm ? sheet(new Frames(section.frames["parking-diaphragm"])) : null;
    if (this.parked) named.parking_diaphragm.form(this.parked);
  }

  /** Show a state of the drawing `picture`; the parking section's plate is `out` mm. One that does not exist moves nothing. */
  show({poses}, state, {lining, temperature}, out) {
    this.#wear(lining);
    this.drumSize = Number.isFinite(state.drumRadius) ? state.drumRadius / this.facts.drumDrawn : 1;
    this.#heat(temperature);
    if (state.reason !== 0 && this.stands) return;
    const stroke = state.reason === 0 ? state.stroke : 0;
    this.bodies.from(poses.matrices, stroke, out);
    this.sheet.stand(stroke);
    this.named.diaphragm.reformed();
    this.parked?.stand(out);
    this.named.parking_diaphragm?.reformed();
    this.touching = {left: touches(state.gaps.left), right: touches(state.gaps.right)};
    this.stands = true;
  }

  #wear(lining) {
    if (this.worn === lining) return;
    this.worn = lining;
    const surface = this.model.surface(lining);
    const {sizes} = this.facts;
    for (const [side, solid] of this.linings) {
      solid.wear(surface);
      this.named[`lining_${side}`].reformed();
      const rivets = this.named[`rivets_${side}`];
      rivets.reformed(sunk(rivets.own, sizes, surface));
    }
  }

  #heat(temperature) {
    const [cold, hottest] = [this.facts.cold, this.model.box.temperature[1]];
    this.hot = GLOW * Math.max((temperature - cold) / (hottest - cold), 0);
  }

  /** Break the shoe return spring, or mend it. */
  break(broken) {
    if (this.broken === broken) return;
    this.broken = broken;
    const length = this.space.lengths.shoe_return_spring;
    this.named.shoe_return_spring.part(...(broken ? GAP.map((share) => share * length) : [0, 0]));
  }

  /** Put everything where it belongs, `apart` by a share, `drum` (ghost, solid, off), with or without `wheel`, with a `cut`. */
  stand({apart, drum, wheel, cut}) {
    const {matrices} = this.bodies;
    for (const part of this.parts) {
      part.seen(seen(part.name, drum, wheel));
      part.stand(part.name === "drum" ? this.#grown(matrices.ground_wheel) : matrices[part.body], apart, this.space.away[part.name]);
      part.cut(CUTS[cut](this.space, part, matrices[part.body]));
    }
    this.boxes ??= this.parts.map((part) => [part, carried(part.box, matrices[part.body])]);
  }

  #grown(matrix) {
    const size = this.drumSize;
    return matrix.map((value, i) => (i === 0 || i === 5 ? value * size : value));
  }

  /** Colour everything; `emphasis` are the names of parts that are talked about. */
  colour({paper, ink, verbs, dark}, emphasis) {
    const talked = emphasis.length > 0;
    for (const part of this.parts) {
      const {full, fill, line} = verbs[part.name === "wheel" ? "wheel" : part.verb];
      const shown = emphasis.includes(part.name);
      const base = this.#base(part, shown ? full : fill, verbs);
      const colours = {fill: base, full, paper, ink, line: shown ? ink : line};
      for (const [name, value] of Object.entries(colours)) part.uniforms[name].value.set(...value);
      part.uniforms.dark.value = dark;
      part.uniforms.fade.value = talked && !shown ? BEHIND : 0;
    }
  }

  /** The drum glows when hot, a lining is full where it touches. */
  #base({name, group}, own, verbs) {
    if (name === "drum") return mixed(own, verbs.rub.full, this.hot);
    return group === "lining" && this.touching?.[name.split("_")[1]] ? verbs.rub.full : own;
  }

  /** What is to be in view: the middle of all that stands there, and how far from it the farthest of it is, mm. */
  frame({apart, wheel}) {
    const boxes = this.boxes.filter(([part]) => wheel || part.name !== "wheel").map(([part, box]) => {
      const share = part.share(apart);
      return box.map((corner) => corner.map((value, k) => value + share * this.space.away[part.name][k]));
    });
    const low = [0, 1, 2].map((k) => Math.min(...boxes.map(([from]) => from[k])));
    const high = [0, 1, 2].map((k) => Math.max(...boxes.map(([, to]) => to[k])));
    const centre = low.map((value, k) => 0.5 * (value + high[k]));
    const far = boxes.map(([from, to]) => Math.hypot(...centre.map((value, k) => Math.max(value - from[k], to[k] - value))));
    return {centre, radius: FILLED * Math.max(...far)};
  }

  /** Where every part stands: its matrix in space, sixteen numbers column by column. */
  get matrices() {
    return Object.fromEntries(this.parts.map((part) => [part.name, [...part.faces.matrix.elements]]));
  }

  dispose() {
    for (const part of this.parts) part.dispose();
  }
}

/** The plane through a body's own origin that leaves the half in a direction of its frame. */
function opened([x, y, z], m) {
  const way = [0, 1, 2].map((k) => m[k] * x + m[4 + k] * y + m[8 + k] * z);
  return [...way, -(way[0] * m[12] + way[1] * m[13] + way[2] * m[14])];
}

/** How a part is shown. */
function seen(name, drum, wheel) {
  if (name === "wheel") return wheel ? "solid" : "off";
  if (SHROUD.includes(name)) return drum;
  return name === SLEEVE && drum !== "solid" ? "ghost" : "solid";
}

/** The box round a box (least and greatest corner) that a matrix has carried off. */
function carried([low, high], matrix) {
  const [from, to] = [[], []];
  for (let k = 0; k < 3; k += 1) {
    from[k] = to[k] = matrix[12 + k];
    for (let j = 0; j < 3; j += 1) {
      const [a, b] = [matrix[4 * j + k] * low[j], matrix[4 * j + k] * high[j]];
      from[k] += Math.min(a, b);
      to[k] += Math.max(a, b);
    }
  }
  return [from, to];
}
