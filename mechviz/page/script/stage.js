/** Where the solids stand: three.js's scene and camera on one canvas, drawn when something has changed and only then. */

const FOV = 26;
const SHARPEST = 2;

/** What is no more than this (mm) before a place does not hide it; nor so much of its own part. */
const NEAR = 1.5;
const OWN = 30;
const SLOW = /swiftshader|llvmpipe|software/i;

/** What draws in this browser; null where it has no WebGL 2. */
export function renderer(document) {
  const gl = document.createElement("canvas").getContext("webgl2");
  if (!gl) return null;
  const told = gl.getExtension("WEBGL_debug_renderer_info");
  const name = String(gl.getParameter(told ? told.UNMASKED_RENDERER_WEBGL : gl.RENDERER));
  gl.getExtension("WEBGL_lose_context")?.loseContext();
  return {name, slow: SLOW.test(name)};
}

/** One scene on one canvas. `placed()` stands the camera and the labels before every picture. */
export class Stage {
  constructor(three, canvas, {slow}, before) {
    Object.assign(this, {three, canvas, before});
    this.slow = slow;
    this.drawing = new three.WebGLRenderer({canvas, antialias: !slow, stencil: true, powerPreference: "high-performance"});
    this.scene = new three.Scene();
    this.camera = new three.PerspectiveCamera(FOV, 1, 1, 10);
    this.ray = new three.Raycaster();
    this.request = 0;
    this.drawn = 0;
    this.size = [0, 0];
  }

  /** Take the canvas's size on the page. */
  resize() {
    const {clientWidth: width, clientHeight: height} = this.canvas.parentNode;
    if (!width || !height) return;
    const sharp = this.slow ? 1 : Math.min(devicePixelRatio, SHARPEST);
    if (this.size[0] === width && this.size[1] === height && this.sharp === sharp) return;
    this.size = [width, height];
    this.sharp = sharp;
    this.drawing.setPixelRatio(sharp);
    this.drawing.setSize(width, height);
    this.ask();
  }

  /** Colour the ground: shares of red, green and blue. */
  ground([red, green, blue]) {
    this.drawing.setClearColor((Math.round(255 * red) << 16) | (Math.round(255 * green) << 8) | Math.round(255 * blue));
  }

  /** Draw with the next frame. */
  ask() {
    this.request ||= requestAnimationFrame(() => this.draw());
  }

  /** Draw now. */
  draw() {
    cancelAnimationFrame(this.request);
    this.request = 0;
    const [width, height] = this.size;
    if (!width || this.ended) return;
    this.before(this.camera, width / height);
    this.drawing.render(this.scene, this.camera);
    this.drawn += 1;
  }

  /** The parts that are hit by the eye's ray through a place of the picture (pixels), nearest first. */
  hits(x, y, parts) {
    const [width, height] = this.size;
    this.ray.setFromCamera(new this.three.Vector2((2 * x) / width - 1, 1 - (2 * y) / height), this.camera);
    const found = parts.map((part) => ({part, ...this.#first(part)})).filter(({distance}) => distance < Infinity);
    return found.sort((a, b) => a.distance - b.distance).map(({part}) => part);
  }

  /** Whether a place on a part is seen: nothing solid is before it. */
  sees(place, own, parts) {
    const {ray, camera, three} = this;
    const way = new three.Vector3(...place).sub(camera.position);
    const far = way.length();
    ray.set(camera.position, way.normalize());
    return parts.every((part) => {
      if (!part.faces.visible) return true;
      const {distance, section} = this.#first(part);
      return distance > far - (part === own ? OWN : NEAR) || (part.ghost && !section);
    });
  }

  /**
   * How far along the ray a part is first met, mm. Where the first of its faces that a cut has left is seen from behind,
   * the ray comes in through its `section`.
   */
  #first(part) {
    const {ray, three} = this;
    part.faces.material.side = three.DoubleSide;
    const first = ray.intersectObject(part.faces, false).find(({point}) => !part.isCut(point));
    part.faces.material.side = three.FrontSide;
    if (!first) return {distance: Infinity};
    const {origin, direction} = ray.ray;
    const behind = first.face.normal.clone().transformDirection(part.faces.matrixWorld).dot(direction) > 0;
    if (!behind || !part.plane) return {distance: first.distance};
    const [x, y, z, w] = part.uniforms.cut.value;
    const off = x * origin.x + y * origin.y + z * origin.z + w;
    return {distance: -off / (x * direction.x + y * direction.y + z * direction.z), section: true};
  }

  /** Where a place in space stands in the picture, pixels. */
  pixel([x, y, z]) {
    const {size, camera, three} = this;
    const seen = new three.Vector3(x, y, z).project(camera);
    return [0.5 * (seen.x + 1) * size[0], 0.5 * (1 - seen.y) * size[1]];
  }

  /** Give everything back. */
  end() {
    this.ended = true;
    cancelAnimationFrame(this.request);
    this.drawing.dispose();
    this.drawing.forceContextLoss();
  }
}
