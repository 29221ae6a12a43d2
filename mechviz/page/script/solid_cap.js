/**
 * The section of one part where a cut goes through it. The eye's ray comes into a closed solid through the plane of the
 * cut where it goes through an odd number of the faces that are left: each of them turns the stencil over, and where it
 * is then set, the plane itself is drawn, hatched.
 */

import {CAP, COUNT} from "./shaders.js";

/** Sections come after all faces that are not seen through. */
const AFTER = 10;

const CORNERS = [-1, -1, 0, 1, -1, 0, 1, 1, 0, -1, 1, 0];

let made = 0;

/** The two steps of one part, drawn one after the other: turn the stencil over, draw a piece of the plane. */
export class SolidCap {
  constructor(three, faces, uniforms) {
    const {BufferAttribute, BufferGeometry, DoubleSide, InvertStencilOp, Mesh, NotEqualStencilFunc, RawShaderMaterial, ZeroStencilOp} = three;
    const material = (shader, more) => new RawShaderMaterial({...shader, uniforms, glslVersion: "300 es", side: DoubleSide, stencilWrite: true, ...more});
    const turn = {depthTest: false, depthWrite: false, colorWrite: false, ...always(InvertStencilOp)};
    this.faces = faces;
    this.turning = new Mesh(faces.geometry, material(COUNT, turn));
    const plane = new BufferGeometry();
    plane.setAttribute("position", new BufferAttribute(Float32Array.from(CORNERS), 3)).setIndex([0, 1, 2, 0, 2, 3]);
    this.section = new Mesh(plane, material(CAP, {stencilFunc: NotEqualStencilFunc, ...always(ZeroStencilOp)}));
    made += 1;
    [this.turning, this.section].forEach((node, i) => {
      Object.assign(node, {matrixAutoUpdate: false, frustumCulled: false, renderOrder: AFTER + 2 * made + i});
    });
    faces.add(this.turning);
    faces.parent.add(this.section);
  }

  /** Draw it on a plane (x, y, z, w), as large as what has these corners needs it. */
  show([x, y, z, w], corners) {
    const across = Math.abs(y) < 0.9 ? unit([z, 0, -x]) : [1, 0, 0];
    const up = [y * across[2] - z * across[1], z * across[0] - x * across[2], x * across[1] - y * across[0]];
    const [a, wide] = span(corners, across);
    const [b, high] = span(corners, up);
    const middle = [x, y, z].map((value, k) => a * across[k] + b * up[k] - w * value);
    const columns = [across.map((value) => wide * value), up.map((value) => high * value), [x, y, z], middle];
    const {elements} = this.section.matrix;
    columns.forEach((column, i) => column.forEach((value, k) => (elements[4 * i + k] = value)));
    this.section.matrixWorldNeedsUpdate = true;
    this.turning.geometry = this.faces.geometry;
    this.turning.visible = this.section.visible = true;
  }

  hide() {
    this.turning.visible = this.section.visible = false;
  }

  dispose() {
    this.section.geometry.dispose();
    this.section.material.dispose();
    this.turning.material.dispose();
  }
}

function always(op) {
  return {stencilFail: op, stencilZFail: op, stencilZPass: op};
}

function unit(way) {
  const size = Math.hypot(...way);
  return way.map((value) => value / size);
}

/** The middle of places along a direction, and how far they reach from it. */
function span(places, [x, y, z]) {
  const along = places.map((place) => x * place[0] + y * place[1] + z * place[2]);
  const [low, high] = [Math.min(...along), Math.max(...along)];
  return [0.5 * (low + high), 0.5 * (high - low)];
}
