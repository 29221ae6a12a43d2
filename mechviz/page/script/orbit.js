/** The viewer's place: walked by mouse, fingers and keys round what is looked at. */

const TURN = 0.0075;
const STEP = Math.PI / 36;
const CLOSER = 1.12;
const STEEPEST = 1.5;
const FARTHEST = 2;
const CLOSEST = 0.12;
const AWAY = 3;
const STILL = 5;

/**
 * The viewer of one canvas. `views` are places with a name: `yaw` is the angle round the upright from the chamber's side,
 * `pitch` that above the shaft's height, rad. `changed()` is told of every step, `tapped(x, y)` of a click in pixels,
 * `done()` of an end.
 */
export class Orbit {
  constructor(canvas, views, {changed, tapped, done}, signal) {
    Object.assign(this, {canvas, views, changed, tapped, done});
    this.fingers = new Map();
    this.stand(views[0]);
    const on = (name, act, more = {}) => canvas.addEventListener(name, act, {signal, ...more});
    on("pointerdown", (event) => this.#down(event));
    on("pointermove", (event) => this.#move(event));
    on("pointerup", (event) => this.#up(event, true));
    on("pointercancel", (event) => this.#up(event, false));
    on("contextmenu", (event) => event.preventDefault());
    on("wheel", (event) => this.#wheel(event), {passive: false});
    on("keydown", (event) => this.#key(event));
  }

  /** Stand at a place, the whole in view. */
  stand({yaw, pitch}) {
    Object.assign(this, {yaw, pitch, zoom: 1, aside: 0, up: 0});
  }

  /** Stand anywhere, looking past the middle by shares of the whole, so many times as far away as needed. */
  take(yaw, pitch, zoom, aside, up) {
    Object.assign(this, {yaw, pitch: limited(pitch, STEEPEST), zoom, aside: limited(aside, FARTHEST), up: limited(up, FARTHEST)});
    this.zoom = Math.min(Math.max(zoom, CLOSEST), AWAY);
  }

  /** Which of the named places it is; -1 for none. */
  get at() {
    return this.views.findIndex(({yaw, pitch}) => Math.abs(turnTo(yaw, this.yaw)) < 1e-6 && Math.abs(pitch - this.pitch) < 1e-6);
  }

  /** Whether the whole is in view, as from a named place. */
  get whole() {
    return this.zoom === 1 && this.aside === 0 && this.up === 0;
  }

  /** Put a camera before a frame (`centre`, `radius`, mm); the picture is `aspect` times as wide as high, `room` of it free. */
  place(camera, {centre, radius}, aspect, room) {
    const half = (0.5 * camera.fov * Math.PI) / 180;
    const away = (this.zoom * radius) / Math.sin(half) / Math.min(1, room);
    const [cosine, sine] = [Math.cos(this.yaw), Math.sin(this.yaw)];
    const [level, steep] = [Math.cos(this.pitch), Math.sin(this.pitch)];
    const right = [cosine, 0, -sine];
    const top = [-sine * steep, level, -cosine * steep];
    const at = centre.map((value, k) => value + radius * (this.aside * right[k] + this.up * top[k]));
    camera.position.set(at[0] + away * sine * level, at[1] + away * steep, at[2] + away * cosine * level);
    camera.lookAt(at[0], at[1], at[2]);
    camera.near = Math.max(away - 3 * radius, 0.02 * away);
    camera.far = away + 3 * radius;
    camera.aspect = aspect;
    camera.updateProjectionMatrix();
  }

  #down(event) {
    this.canvas.focus({preventScroll: true});
    this.canvas.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, {x: event.clientX, y: event.clientY});
    this.moved = this.fingers.size > 1 ? Infinity : 0;
  }

  #move(event) {
    const finger = this.fingers.get(event.pointerId);
    if (!finger) return;
    const [dx, dy] = [event.clientX - finger.x, event.clientY - finger.y];
    const before = this.#spread();
    Object.assign(finger, {x: event.clientX, y: event.clientY});
    this.moved += Math.hypot(dx, dy);
    if (this.moved < STILL) return;
    if (this.fingers.size > 1) this.#pinch(before, dx, dy);
    else if (event.buttons & 2 || event.shiftKey) this.#pan(dx, dy);
    else this.#turn(-TURN * dx, TURN * dy);
    this.changed();
  }

  #up(event, tap) {
    if (!this.fingers.delete(event.pointerId)) return;
    if (tap && this.moved < STILL && event.button === 0) this.tapped(event.offsetX, event.offsetY);
    if (this.fingers.size === 0 && this.moved >= STILL) this.done();
  }

  /** How far two fingers are apart, pixels. */
  #spread() {
    const [a, b] = this.fingers.values();
    return b ? Math.hypot(a.x - b.x, a.y - b.y) : 1;
  }

  #pinch(before, dx, dy) {
    this.#closer(before / Math.max(this.#spread(), 1));
    this.#pan(0.5 * dx, 0.5 * dy);
  }

  #turn(yaw, pitch) {
    this.yaw = turnTo(0, this.yaw + yaw);
    this.pitch = limited(this.pitch + pitch, STEEPEST);
  }

  #pan(dx, dy) {
    const scale = (2.1 * this.zoom) / Math.min(this.canvas.clientWidth, this.canvas.clientHeight);
    this.aside = limited(this.aside - scale * dx, FARTHEST);
    this.up = limited(this.up + scale * dy, FARTHEST);
  }

  #closer(share) {
    this.zoom = Math.min(Math.max(this.zoom * share, CLOSEST), AWAY);
  }

  #wheel(event) {
    event.preventDefault();
    this.#closer(Math.exp(0.0012 * event.deltaY));
    this.changed();
    this.done();
  }

  #key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const way = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1]}[event.key];
    if (way && event.shiftKey) this.#pan(-40 * way[0], 40 * way[1]);
    else if (way) this.#turn(STEP * way[0], STEP * way[1]);
    else if (event.key === "+" || event.key === "=") this.#closer(1 / CLOSER);
    else if (event.key === "-") this.#closer(CLOSER);
    else return;
    event.preventDefault();
    this.changed();
    this.done();
  }
}

/** A value that is no farther from nothing than so much. */
function limited(value, most) {
  return Math.min(Math.max(value, -most), most);
}

/** The shorter way from one direction to another, radians. */
export function turnTo(from, to) {
  const way = (to - from) % (2 * Math.PI);
  return way > Math.PI ? way - 2 * Math.PI : way <= -Math.PI ? way + 2 * Math.PI : way;
}
