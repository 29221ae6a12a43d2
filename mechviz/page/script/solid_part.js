/** One part in the scene: its faces, its edges, its colours, and the way that it goes when the brake comes apart. */

import {EDGES, SURFACE} from "./shaders.js";
import {SolidCap} from "./solid_cap.js";

/** Nothing is cut off. */
const WHOLE = [0, 0, 0, 1];

/** How much of a ghosted part is seen, where one looks straight at it. */
const THIN = 0.1;

const EIGHT = [0, 1, 2, 3, 4, 5, 6, 7];

/** How much of its edges, for a ghost that has many of them before what is to be seen. */
const FAINT = {hub: 0.2};

/** A part of the solid view; `three` is the module. */
export class SolidPart {
  constructor(three, about) {
    Object.assign(this, {three, ...about});
    this.uniforms = Object.fromEntries(["fill", "full", "paper", "ink", "line"].map((name) => [name, {value: new three.Vector3()}]));
    Object.assign(this.uniforms, {alpha: {value: 1}, fade: {value: 0}, dark: {value: 0}, cut: {value: [...WHOLE]}});
    this.lines = {...this.uniforms, alpha: {value: 1}};
    this.faces = new three.Mesh(new three.BufferGeometry(), this.#material(SURFACE, this.uniforms));
    this.edges = new three.LineSegments(new three.BufferGeometry(), this.#material(EDGES, this.lines));
    this.shift = [0, 0, 0];
    for (const node of [this.faces, this.edges]) {
      node.matrixAutoUpdate = false;
      node.frustumCulled = false;
      node.part = this;
    }
  }

  #material(shader, uniforms) {
    return new this.three.RawShaderMaterial({...shader, uniforms, glslVersion: "300 es"});
  }

  /** Take a form: `points`, `normals`, `corners` and `edges` as arrays. */
  form({points, normals, corners, edges}) {
    const {BufferAttribute} = this.three;
    this.own = points;
    const place = new BufferAttribute(this.made === "surface" ? points.slice() : points, 3);
    this.faces.geometry.dispose();
    this.edges.geometry.dispose();
    const [faces, lines] = [new this.three.BufferGeometry(), new this.three.BufferGeometry()];
    faces.setAttribute("position", place).setAttribute("normal", new BufferAttribute(normals, 3));
    faces.setIndex(new BufferAttribute(Uint16Array.from(corners), 1));
    lines.setAttribute("position", place).setIndex(new BufferAttribute(Uint16Array.from(edges), 1));
    this.faces.geometry = faces;
    this.edges.geometry = lines;
    this.corners = corners;
    this.reformed();
  }

  /** The points of the form are others than before. */
  reformed(points = this.own) {
    const {position, normal} = this.faces.geometry.attributes;
    if (points !== position.array) position.array.set(points);
    position.needsUpdate = normal.needsUpdate = true;
    this.faces.geometry.boundingSphere = null;
    this.box = bounds(position.array);
  }

  /** Show only those triangles whose middle, along the part's own x, is no share of `from` to `to` mm. */
  part(from, to) {
    const {own, corners} = this;
    const inside = (i) => {
      const middle = (own[3 * corners[i]] + own[3 * corners[i + 1]] + own[3 * corners[i + 2]]) / 3;
      return middle > from && middle < to;
    };
    const kept = [];
    for (let i = 0; i < corners.length; i += 3) if (!inside(i)) kept.push(corners[i], corners[i + 1], corners[i + 2]);
    this.faces.geometry.setIndex(new this.three.BufferAttribute(Uint16Array.from(kept), 1));
  }

  /** How much of its way the part has gone when the whole is so far apart: slow at both ends. */
  share(apart) {
    const u = Math.min(Math.max((apart - this.begins) / (this.ends - this.begins), 0), 1);
    return u * u * (3 - 2 * u);
  }

  /** Stand where a body's matrix says, moved by so much of the way apart. */
  stand(matrix, apart, away) {
    const share = this.share(apart);
    for (let k = 0; k < 3; k += 1) this.shift[k] = share * away[k];
    for (const node of [this.faces, this.edges]) {
      const {elements} = node.matrix;
      for (let i = 0; i < 16; i += 1) elements[i] = matrix[i];
      for (let k = 0; k < 3; k += 1) elements[12 + k] += this.shift[k];
      node.matrixWorldNeedsUpdate = true;
    }
  }

  /** Cut with a plane (x, y, z, w: what is kept has x X + y Y + z Z + w > 0); it moves with the part. Null: whole. */
  cut(plane) {
    this.plane = plane;
    const [x, y, z, w] = plane ?? WHOLE;
    const moved = plane ? w - x * this.shift[0] - y * this.shift[1] - z * this.shift[2] : w;
    this.uniforms.cut.value.splice(0, 4, x, y, z, moved);
    this.lines.cut = this.uniforms.cut;
    const side = plane ? this.#side() : 1;
    for (const {material} of [this.faces, this.edges]) defined(material, "CUT", side === 0);
    if (side < 0) this.faces.visible = this.edges.visible = false;
    if (side !== 0 || !this.faces.visible) {
      this.cap?.hide();
      return;
    }
    this.cap ??= new SolidCap(this.three, this.faces, this.uniforms);
    const {box, faces: {matrix: {elements}}} = this;
    const corner = (i) => carried(elements, box[i & 1][0], box[(i >> 1) & 1][1], box[i >> 2][2]);
    this.cap.show(this.uniforms.cut.value, EIGHT.map(corner));
  }

  /** Stand solid, as a ghost, or not at all. */
  seen(how) {
    const {faces, edges} = this;
    const ghost = how === "ghost";
    faces.visible = edges.visible = how !== "off";
    this.ghost = ghost;
    this.uniforms.alpha.value = ghost ? THIN : 1;
    faces.material.transparent = ghost;
    faces.material.depthWrite = !ghost;
    edges.material.transparent = ghost;
    faces.renderOrder = edges.renderOrder = ghost ? 1 : 0;
    this.lines.alpha.value = ghost ? FAINT[this.name] ?? 0.45 : 1;
  }

  /** On which side of the cut the box lies that the part fills: 1 is left, -1 is cut off, 0 on both. */
  #side() {
    const {box: [low, high], faces: {matrix: {elements: m}}} = this;
    const [a, b, c, d] = this.uniforms.cut.value;
    const way = [0, 4, 8, 12].map((k) => a * m[k] + b * m[k + 1] + c * m[k + 2]);
    let [least, most] = [way[3] + d, way[3] + d];
    for (let k = 0; k < 3; k += 1) {
      least += Math.min(way[k] * low[k], way[k] * high[k]);
      most += Math.max(way[k] * low[k], way[k] * high[k]);
    }
    return most <= 0 ? -1 : least < 0 ? 0 : 1;
  }

  /** Whether a place in space is cut off. */
  isCut({x, y, z}) {
    const [a, b, c, d] = this.uniforms.cut.value;
    return a * x + b * y + c * z + d < 0;
  }

  /** The point of its surface that is worth most, among those that are not cut off; null where all is. */
  best(worth) {
    const {array} = this.faces.geometry.attributes.position;
    const {elements: m} = this.faces.matrix;
    const place = new this.three.Vector3();
    let [found, most] = [null, -Infinity];
    for (let i = 0; i < array.length; i += 3) {
      const [x, y, z] = [array[i], array[i + 1], array[i + 2]];
      const now = worth(x, y, z);
      if (now <= most + 1e-6) continue;
      place.set(...carried(m, x, y, z));
      if (!this.isCut(place)) [found, most] = [[x, y, z], now];
    }
    return found;
  }

  /** Give everything back. */
  dispose() {
    this.cap?.dispose();
    for (const node of [this.faces, this.edges]) {
      node.geometry.dispose();
      node.material.dispose();
    }
  }
}

/** Where a matrix carries a place. */
export function carried(m, x, y, z) {
  return [0, 1, 2].map((k) => m[k] * x + m[4 + k] * y + m[8 + k] * z + m[12 + k]);
}

/** Let a material's shader know of something, or no longer. */
function defined(material, name, on) {
  if ((name in material.defines) === on) return;
  if (on) material.defines[name] = "";
  else delete material.defines[name];
  material.needsUpdate = true;
}

/** Least and greatest x, y and z of points. */
function bounds(points) {
  const [low, high] = [[Infinity, Infinity, Infinity], [-Infinity, -Infinity, -Infinity]];
  for (let i = 0; i < points.length; i += 1) {
    low[i % 3] = Math.min(low[i % 3], points[i]);
    high[i % 3] = Math.max(high[i % 3], points[i]);
  }
  return [low, high];
}
