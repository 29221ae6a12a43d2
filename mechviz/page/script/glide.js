/** A movement of the view from one place to another: slow at both ends, at once where motion is not wanted. */

/** One movement at a time. `done()` is told of the end of each. */
export class Glide {
  constructor(done) {
    this.done = done;
    this.request = 0;
  }

  /** Move in so many milliseconds: `step(share)` is told how far it is. */
  run(time, step) {
    this.stop();
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const start = performance.now();
    const frame = (now) => {
      const share = calm || time === 0 ? 1 : Math.min(Math.max((now - start) / time, 0), 1);
      step(share * share * (3 - 2 * share));
      if (share < 1) this.request = requestAnimationFrame(frame);
      else this.done();
    };
    frame(start);
  }

  /** Stay where it is. */
  stop() {
    cancelAnimationFrame(this.request);
  }
}
