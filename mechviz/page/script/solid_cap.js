/**
 * The section of one part where a cut goes through it. A closed solid is cut at a place of the picture if more of its
 * backs than of its fronts are left there: that is counted in the stencil, and where it is so the section is drawn, on
 * the plane of the cut. Backs are what covers it, wherever it is.
 */

import {CAP, COUNT} from "./shaders.js";

/** Caps come after all faces that are not seen through. */
const AFTER = 10;

let made = 0;

/** The three steps of one part, drawn one after the other: count backs, count fronts, draw. */
export class SolidCap {
  constructor(three, faces, uniforms) {
    const {BackSide, FrontSide, IncrementWrapStencilOp, DecrementWrapStencilOp, ZeroStencilOp, NotEqualStencilFunc} = three;
    const counting = {depthTest: false, depthWrite: false, colorWrite: false};
    const draws = {stencilFunc: NotEqualStencilFunc, stencilFail: ZeroStencilOp, stencilZFail: ZeroStencilOp, stencilZPass: ZeroStencilOp};
    const steps = [
      [COUNT, {side: BackSide, ...counting, ...all(IncrementWrapStencilOp)}],
      [COUNT, {side: FrontSide, ...counting, ...all(DecrementWrapStencilOp)}],
      [CAP, {side: BackSide, ...draws}],
    ];
    made += 1;
    this.faces = faces;
    this.nodes = steps.map(([shader, more], i) => {
      const material = new three.RawShaderMaterial({...shader, uniforms, glslVersion: "300 es", stencilWrite: true, ...more});
      const node = new three.Mesh(faces.geometry, material);
      Object.assign(node, {matrixAutoUpdate: false, frustumCulled: false, renderOrder: AFTER + 3 * made + i});
      faces.add(node);
      return node;
    });
  }

  /** Draw it, or not. */
  show(shown) {
    for (const node of this.nodes) {
      node.visible = shown;
      node.geometry = this.faces.geometry;
    }
  }

  dispose() {
    for (const {material} of this.nodes) material.dispose();
  }
}

function all(op) {
  return {stencilFail: op, stencilZFail: op, stencilZPass: op};
}
