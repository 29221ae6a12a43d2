/**
 * Figures as people read and type them. Inside the page all are mm, rad, N, N*mm, MPa, K.
 */

/** A number rounded to so many decimals, halves away from zero (0.37499999999 is 0.375), never a negative zero. */
export function fixed(value, decimals) {
  const text = (value + Math.sign(value) * 1e-9).toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

/** Decimals of a force or torque at the most: what is smaller than they tell is 0. */
const MOST = 2;

/** A number to three figures, written out. */
function significant(value) {
  if (Math.abs(value) < 0.5 * 10 ** -MOST) return "0";
  const decimals = Math.min(2 - Math.floor(Math.log10(Math.abs(value))), MOST);
  const scale = 10 ** decimals;
  return fixed(Math.round(value * scale) / scale, Math.max(decimals, 0));
}

const NUMBER = /^([+-]?\d+(?:[.,]\d+)?|[+-]?[.,]\d+)/;
const FRACTION = /^(?:(\d+)[\s-]+)?(\d+)\s*\/\s*(\d+)/;

/** The number that a text starts with, fractions included, and what follows it; null where it starts with none. */
function leading(text) {
  const fraction = FRACTION.exec(text);
  if (fraction && Number(fraction[3]) !== 0) {
    const value = Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]);
    return {value, rest: text.slice(fraction[0].length).trim()};
  }
  const plain = NUMBER.exec(text);
  return plain && {value: Number(plain[0].replace(",", ".")), rest: text.slice(plain[0].length).trim()};
}

const SPELLED = {'"': "in", inch: "in", inches: "in", f: "degF", "°f": "degF", c: "degC", "°c": "degC"};

/** Decimals of a difference at the most. */
const FINEST = 3;

/** One system of units, switched as a whole. */
export class Units {
  constructor(kinds, system) {
    this.kinds = kinds;
    this.system = system;
  }

  /** A value in the unit that is shown. */
  shown(value, kind) {
    const {factor, zero} = this.kinds[kind][this.system];
    return (value - zero) / factor;
  }

  /** A value in the unit used inside. */
  inside(value, kind) {
    const {factor, zero} = this.kinds[kind][this.system];
    return value * factor + zero;
  }

  /** The unit as it is said. */
  word(kind) {
    return kind === "angle" ? "°" : this.kinds[kind][this.system].word.replace("deg", "°");
  }

  /** A number without its unit; a dash where there is none. */
  number(value, kind, decimals = this.kinds[kind][this.system].decimals) {
    if (!Number.isFinite(value)) return "–";
    const amount = this.shown(value, kind);
    return kind === "force" || kind === "torque" ? significant(amount) : fixed(amount, decimals);
  }

  /** A number with its unit. */
  text(value, kind, decimals) {
    const number = this.number(value, kind, decimals);
    if (number === "–") return number;
    return kind === "angle" ? `${number}°` : `${number} ${this.word(kind)}`;
  }

  /** A difference of lengths with as many decimals as keep it from being 0; as 0 only where there is none. */
  apart(value) {
    const {decimals} = this.kinds.length[this.system];
    if (this.shown(value, "length") < 1e-7) return this.text(0, "length");
    for (let more = decimals; more <= FINEST; more += 1) {
      if (Number(this.number(value, "length", more)) > 0) return this.text(value, "length", more);
    }
    return `under ${10 ** -FINEST} ${this.word("length")}`;
  }

  /** A gap: thousandths of an inch, hundredths of a millimetre. */
  gap(value) {
    if (!Number.isFinite(value)) return "–";
    return value < 5e-3 ? "touches" : this.text(value, "length", this.system === "inch" ? 3 : 2);
  }

  /** Read what was typed: a number, a fraction, with or without a unit of either system. NaN where it is none. */
  read(text, kind) {
    const found = leading(text.trim());
    if (!found) return NaN;
    if (found.rest === "") return this.inside(found.value, kind);
    const name = SPELLED[found.rest.toLowerCase()] ?? found.rest;
    const units = Object.values(this.kinds[kind]);
    const unit = units.find((one) => [one.unit, one.word].some((word) => word.toLowerCase() === name.toLowerCase()));
    return unit ? found.value * unit.factor + unit.zero : NaN;
  }
}
