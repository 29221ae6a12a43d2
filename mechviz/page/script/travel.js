/**
 * One application of the brake at the present settings: from released to applied, and what is possible of it.
 *
 * The place in it is a number from 0 to 1 that follows cause and effect: first the pressure rises and nothing moves
 * (the springs hold), then the rod travels until the first lining touches, then the brake presses. Every place is a
 * state of the solver's own; none is made up in between.
 */

const FILL = 0.18;
const FREE = 0.42;

/** Slow at both ends. */
function eased(share) {
  return share * share * (3 - 2 * share);
}

/** The travel at one set of settings. */
export class Travel {
  constructor(model) {
    this.model = model;
    this.rest = model.blank();
    this.full = model.blank();
    this.trial = model.blank();
    this.asked = {stroke: 0, lining: 0, temperature: 0, setting: 0};
    this.moves = false;
    /** The released state of a brake whose linings never come to the drum, whatever the arm does; null for any other. */
    this.held = null;
  }

  /** Take in settings: where contact and the end are, and why the end is not the applied state. */
  set(settings) {
    const {model, rest, full} = this;
    this.settings = settings;
    this.#at(0, rest);
    model.state(settings, full);
    this.reason = rest.reason || full.reason;
    this.possible = rest.reason === 0;
    this.end = this.#end();
    const touch = full.contactStroke;
    this.touches = Number.isFinite(touch) && touch <= this.end;
    this.contact = this.touches ? Math.max(touch, 0) : this.end;
    this.lift = this.#lift();
    this.moves = this.possible && this.end > 0;
    return this;
  }

  /** The state at a place; `last` tells that the place is the end of what is possible and not the applied state. */
  state(place, into) {
    if (place >= 1 && this.reason === 0) return this.model.state(this.settings, into);
    this.#at(this.stroke(place), into);
    into.pressure = this.#pressure(place, into.pressure);
    return into;
  }

  /** The stroke (mm) at a place. */
  stroke(place) {
    const {contact, end} = this;
    if (place >= 1) return end;
    if (place <= FILL) return 0;
    if (!this.touches) return end * eased((place - FILL) / (1 - FILL));
    if (place <= FILL + FREE) return contact * eased((place - FILL) / FREE);
    return contact + (end - contact) * eased((place - FILL - FREE) / (1 - FILL - FREE));
  }

  /** The place at which the first lining touches. */
  get touchPlace() {
    return this.touches ? FILL + FREE : 1;
  }

  /** What happens at a place: `released`, `fills`, `travels`, `touches`, `presses`, `applied`, or `stopped` where it cannot go on. */
  phase(place) {
    if (place <= 0) return "released";
    if (place >= 1) return this.reason === 0 ? "applied" : "stopped";
    if (place <= FILL || !this.moves) return "fills";
    if (this.touches && Math.abs(place - this.touchPlace) < 1e-6) return "touches";
    return place < this.touchPlace ? "travels" : "presses";
  }

  #at(stroke, into) {
    const {asked, settings} = this;
    asked.stroke = stroke;
    asked.lining = settings.lining;
    asked.temperature = settings.temperature;
    asked.setting = settings.setting;
    return this.model.atStroke(asked, into);
  }

  /** The stroke of the applied state, or the last one that is possible. */
  #end() {
    const {full, trial, model} = this;
    if (!this.possible) return 0;
    if (full.reason === 0) return full.stroke;
    let [low, high] = [0, model.limits.ratedStroke];
    if (this.#at(high, trial).reason === 0) return high;
    while (high - low > 1e-6) {
      const middle = 0.5 * (low + high);
      if (this.#at(middle, trial).reason === 0) low = middle;
      else high = middle;
    }
    return low;
  }

  /** The pressure that just lifts the springs; no more than what is asked for. */
  #lift() {
    if (!this.possible || !(this.end > 0)) return this.settings.pressure;
    const {pressure} = this.#at(Math.min(0.01, 0.5 * this.end), this.trial);
    return Number.isFinite(pressure) ? Math.min(pressure, this.settings.pressure) : 0;
  }

  #pressure(place, held) {
    if (place <= 0) return 0;
    if (place <= FILL || !this.moves) return this.lift * Math.min(place / FILL, 1);
    return held;
  }
}
