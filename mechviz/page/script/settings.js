/** What the sliders set, with undo, redo and reset; and the same as text for the address. */

/** Names of the settings, and how each is called in the address. */
const NAMES = {pressure: "p", lining: "w", temperature: "t", setting: "a"};

/** The four figures that a state follows from. */
export class Settings {
  constructor(model) {
    this.model = model;
    this.found = this.#of(model.found);
    this.now = {...this.found};
    this.past = [];
    this.future = [];
    this.before = null;
  }

  #of({pressure, lining, temperature, setting}) {
    return {pressure, lining, temperature, setting};
  }

  /** Change some of them; nothing is remembered before `commit`. */
  change(part) {
    this.before ??= {...this.now};
    Object.assign(this.now, part);
  }

  /** Remember the change for undo. Tells whether there was one. */
  commit() {
    const {before} = this;
    this.before = null;
    if (!before || Object.keys(before).every((name) => before[name] === this.now[name])) return false;
    this.past.push(before);
    this.future.length = 0;
    return true;
  }

  undo() {
    return this.#swap(this.past, this.future);
  }

  redo() {
    return this.#swap(this.future, this.past);
  }

  #swap(from, to) {
    this.commit();
    if (!from.length) return false;
    to.push({...this.now});
    Object.assign(this.now, from.pop());
    return true;
  }

  reset() {
    this.change(this.found);
    return this.commit();
  }

  /** As address parameters. */
  text(values = this.now) {
    return Object.entries(NAMES).map(([name, short]) => `${short}=${Number(values[name].toPrecision(9))}`);
  }

  /** Take them from address parameters; what is missing or no number stays, what is off the sliders too. */
  read(parameters) {
    for (const [name, short] of Object.entries(NAMES)) {
      const value = Number(parameters.get(short) ?? NaN);
      const [low, high] = this.model.box[name];
      if (value >= low - 1e-6 && value <= high + 1e-6) this.now[name] = Math.min(Math.max(value, low), high);
    }
  }
}
