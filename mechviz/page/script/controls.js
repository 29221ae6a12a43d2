/** The four sliders, each with a field for typing, and the switch that lets the adjuster keep up with wear. */

const STEPS = 1000;

/** Each control's kind of quantity and how many decimals its field shows. */
const KINDS = {
  pressure: ["pressure"],
  lining: ["length"],
  temperature: ["temperature"],
  freeStroke: ["length"],
};

/** The controls of one page. `changed(part)` is told of every movement, `done()` of the end of one. */
export class Controls {
  constructor(root, model, settings, facts, units, {changed, done}, signal) {
    Object.assign(this, {model, settings, facts, units, changed, done});
    this.keep = root.querySelector("[data-role=keep]");
    this.fields = Object.keys(KINDS).map((name) => this.#field(root, name, signal));
  }

  #field(root, name, signal) {
    const box = root.querySelector(`[data-control=${name}]`);
    const field = {name, kind: KINDS[name][0], box, range: box.querySelector("input[type=range]")};
    field.typed = box.querySelector("input[type=text]");
    field.fault = box.querySelector("[role=alert]");
    field.unit = box.querySelector(".unit");
    [field.low, field.high] = this.model.box[name];
    field.range.max = STEPS;
    field.range.addEventListener("input", () => this.#slid(field), {signal});
    field.range.addEventListener("change", () => this.done(), {signal});
    field.typed.addEventListener("change", () => this.#typed(field), {signal});
    field.typed.addEventListener("focus", () => field.typed.select(), {signal});
    return field;
  }

  #slid(field) {
    field.fault.textContent = "";
    this.#take(field, field.low + ((field.high - field.low) * Number(field.range.value)) / STEPS);
  }

  #typed(field) {
    const {units} = this;
    const value = units.read(field.typed.value, field.kind);
    const spare = 1e-3 * (field.high - field.low);
    const good = value >= field.low - spare && value <= field.high + spare;
    const [low, high] = [units.number(field.low, field.kind), units.text(field.high, field.kind)];
    field.fault.textContent = good ? "" : `Type ${low} to ${high}.`;
    field.typed.setAttribute("aria-invalid", String(!good));
    if (!good) return;
    this.#take(field, Math.min(Math.max(value, field.low), field.high));
    this.done();
  }

  /** Turn a control's value into settings. */
  #take(field, value) {
    const {model, settings, facts} = this;
    const {lining, setting} = settings.now;
    const cold = {temperature: facts.cold};
    if (field.name === "freeStroke") {
      const found = model.settingForFreeStroke({freeStroke: value, lining, ...cold});
      if (Number.isFinite(found)) this.changed({setting: found});
      return;
    }
    if (field.name === "lining" && this.keep.checked) {
      const freeStroke = model.freeStroke({setting, lining, ...cold});
      const kept = model.settingForFreeStroke({freeStroke, lining: value, ...cold});
      this.changed(Number.isFinite(kept) ? {lining: value, setting: kept} : {lining: value});
      return;
    }
    this.changed({[field.name]: value});
  }

  /** The value that a control stands at. */
  #value(name) {
    const {model, settings, facts} = this;
    if (name !== "freeStroke") return settings.now[name];
    return model.freeStroke({...settings.now, temperature: facts.cold});
  }

  /** Bring every slider and field to the settings; one that is being typed in is left alone. */
  show() {
    const {units} = this;
    for (const field of this.fields) {
      const value = this.#value(field.name);
      const text = units.number(value, field.kind);
      const place = String(Math.round((STEPS * (value - field.low)) / (field.high - field.low)) || 0);
      const root = field.typed.getRootNode();
      if (field.range.value !== place) field.range.value = place;
      if (field.spoken !== text + units.system) {
        field.spoken = text + units.system;
        field.range.setAttribute("aria-valuetext", units.text(value, field.kind));
        field.unit.textContent = units.word(field.kind);
        if (root.activeElement !== field.typed || !field.fault.textContent) field.typed.value = text;
        field.typed.removeAttribute("aria-invalid");
        field.fault.textContent = "";
      }
    }
  }

  /** Give up what was typed and could not be taken. */
  forget() {
    for (const field of this.fields) {
      if (!field.fault.textContent) continue;
      field.fault.textContent = field.spoken = "";
    }
    this.show();
  }

  /** Nothing can be set while a story runs. */
  enable(enabled) {
    for (const {range, typed} of this.fields) range.disabled = typed.disabled = !enabled;
    this.keep.disabled = !enabled;
  }
}
