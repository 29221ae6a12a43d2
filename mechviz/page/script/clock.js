/** What moves, and how fast: the brake being pressed or let go, and settings that walk from one place to another. */

/** Seconds from released to applied at full speed: about what a brake takes that is pressed hard. */
const SECONDS = 0.7;
const HOLD = 0.9;
const LONGEST_FRAME = 0.05;

/** The clock of one page. It only runs while something moves. `tick` is told of every frame. */
export class Clock {
  constructor(tick, calm) {
    this.tick = tick;
    this.calm = calm;
    this.speed = 0.25;
    this.place = 0;
    this.target = 0;
    this.playing = false;
    this.held = 0;
    this.walk = null;
    this.frozen = null;
    this.arrived = null;
    this.request = 0;
    this.last = NaN;
    this.frame = (time) => this.#frame(time);
  }

  /** Draw once more, and go on if anything moves. */
  wake() {
    if (!this.request && !this.stopped) this.request = requestAnimationFrame(this.frame);
  }

  /** Stop for good. */
  stop() {
    this.stopped = true;
    cancelAnimationFrame(this.request);
  }

  /** Move the brake to a place; then call `arrived`. */
  go(place, arrived = null) {
    this.playing = false;
    this.#towards(place, arrived);
  }

  #towards(place, arrived) {
    this.frozen = null;
    this.target = place;
    this.arrived = arrived;
    if (this.calm()) this.place = place;
    this.wake();
  }

  /** Stand at a place at once. */
  jump(place) {
    this.frozen = null;
    this.playing = false;
    this.arrived = null;
    this.place = this.target = place;
    this.wake();
  }

  /** Press and let go again and again. */
  play() {
    this.playing = true;
    this.arrived = null;
    this.target = this.place >= 1 ? 0 : 1;
    this.held = 0;
    this.wake();
  }

  /** Let settings walk in so many seconds: `step(share)` is told how far they are; then `arrived`. */
  stroll(seconds, step, arrived = null) {
    if (this.calm()) {
      this.walk = null;
      step(1);
      arrived?.();
    } else this.walk = {seconds, step, arrived, at: 0};
    this.wake();
  }

  /** Let something run evenly at the clock's speed, so many seconds at full speed: `step(share)` as for a stroll. */
  run(seconds, step) {
    this.frozen = null;
    this.walk = {seconds, step, arrived: null, at: 0, even: true};
    this.wake();
  }

  /** Leave everything where it is. */
  halt() {
    this.frozen = null;
    this.walk = null;
    this.arrived = null;
    this.playing = false;
    this.target = this.place;
  }

  /** Stop where it is, to go on from there later. */
  pause() {
    const {walk, target, arrived, playing} = this;
    this.halt();
    this.frozen = {walk, target, arrived, playing};
    this.wake();
  }

  /** Go on from where it was stopped. Tells whether there was anything to go on with. */
  resume() {
    if (!this.frozen) return false;
    Object.assign(this, this.frozen);
    this.frozen = null;
    this.wake();
    return true;
  }

  /** Whether the brake is being let go, or was stopped on the way. */
  get back() {
    return (this.frozen?.target ?? this.target) < this.place;
  }

  get moving() {
    return this.walk !== null || this.place !== this.target || this.playing;
  }

  #frame(time) {
    this.request = 0;
    const passed = Number.isNaN(this.last) ? 0 : Math.min((time - this.last) / 1000, LONGEST_FRAME);
    this.last = time;
    this.#move(passed);
    this.#walk(passed);
    this.tick();
    if (this.moving) this.wake();
    else this.last = NaN;
  }

  #move(passed) {
    const way = Math.sign(this.target - this.place);
    if (way !== 0) {
      const next = this.place + (way * passed * this.speed) / SECONDS;
      this.place = way > 0 ? Math.min(next, this.target) : Math.max(next, this.target);
      this.held = 0;
      if (this.place === this.target) this.#arrive();
    } else if (this.playing) {
      this.held += passed;
      if (this.held > HOLD) this.target = this.place >= 1 ? 0 : 1;
    }
  }

  #arrive() {
    const {arrived} = this;
    this.arrived = null;
    arrived?.();
  }

  #walk(passed) {
    const {walk} = this;
    if (!walk) return;
    walk.at = Math.min(walk.at + (walk.even ? passed * this.speed : passed) / walk.seconds, 1);
    walk.step(walk.even ? walk.at : walk.at * walk.at * (3 - 2 * walk.at));
    if (walk.at < 1) return;
    if (this.walk === walk) this.walk = null;
    walk.arrived?.();
  }
}
