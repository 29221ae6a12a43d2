/**
 * What a stroke is against its limit, in one of four words, and what follows it in a sentence.
 *
 * The readjustment limit is for a cold drum: a hot one's stroke is told against it and not judged by it. A chamber that
 * has bottomed has failed at any temperature.
 */

/** The verdicts: their word, and the shape of their mark. */
export const VERDICTS = {
  over: {word: "fail", shape: "block"},
  close: {word: "close", shape: "ring"},
  inside: {word: "pass", shape: "ring"},
  open: {word: "not evaluated", shape: "dotted ring"},
  hot: {word: "not evaluated", shape: "dotted ring"},
  past: {word: "not evaluated", shape: "dotted block"},
  spent: {word: "fail", shape: "block"},
  sprung: {word: "not evaluated", shape: "dotted ring"},
  none: {word: "not evaluated", shape: "none"},
};

const HAIR = 1e-9;
/** A margin (mm) below this is none, and what is said then. */
const SAME = 2.54e-6;
const AT = "at the limit";

/**
 * Judge a state, for a chamber that is known to be this one. On a drum that is not hot, over the limit at any time;
 * inside it only when fully applied at a pressure that a test asks for; neither where readings and model leave it open.
 */
export function judged(state, facts, {applied, settings, bottomed}) {
  if (bottomed) return "spent";
  if (state.reason !== 0) return "none";
  const {limit, open, test} = facts;
  if (!limit.known) return "open";
  const over = state.stroke > limit.stroke + HAIR;
  if (isHot(settings, facts)) return over ? "past" : "hot";
  const {pressure} = settings;
  if (pressure > test[1] + 1e-6) return "open";
  if (over) return state.stroke - open > limit.stroke + HAIR ? "over" : "close";
  if (!applied || pressure < test[0] - 1e-6) return "open";
  return state.stroke + open > limit.stroke + HAIR ? "close" : "inside";
}

/** Whether the drum is so warm that the limit does not hold. */
export function isHot({temperature}, facts) {
  return temperature > facts.warm;
}

/** What the limit is called: on a hot drum it says that it is none for this one. */
export function limitName(settings, facts, units) {
  const limit = units.system === "inch" ? facts.limit.inches : units.text(facts.limit.stroke, "length");
  return {name: isHot(settings, facts) ? "cold limit " : "limit ", limit};
}

/** What follows the verdict's word: the margin, or why there is no verdict. */
export function said(verdict, state, facts, units, applied) {
  if (verdict === "spent") return "the chamber has bottomed, no force is left";
  if (verdict === "none") return "there is no such state";
  if (verdict === "sprung") return "the limit is for air alone";
  const margin = marginWords(state.stroke, facts, units);
  const [side, by] = margin === AT ? ["at", ""] : [margin.slice(0, margin.indexOf(" ")), margin.slice(margin.indexOf(" "))];
  if (verdict === "hot" || verdict === "past") return `${side} the limit of a cold drum${by}`;
  if (verdict === "open") return unjudged(`${side} the limit${by} so far`, state, facts, units, applied);
  return verdict === "close" ? `${margin}, too near to tell` : `${side} the limit${by}`;
}

/** Why a stroke inside the limit is not judged. */
function unjudged(soFar, state, facts, units, applied) {
  if (!facts.limit.known) return "which chamber it is, the file does not say";
  if (!applied && state.pressure <= facts.test[1]) return soFar;
  if (state.pressure >= facts.test[0] - 1e-6 && state.pressure <= facts.test[1] + 1e-6) return "no lining presses";
  const [low, high] = facts.test.map((value) => units.number(value, "pressure"));
  return `a test takes ${low} to ${high} ${units.word("pressure")}`;
}

/** The margin by itself. */
export function marginWords(stroke, facts, units) {
  const margin = facts.limit.stroke - stroke;
  if (Math.abs(margin) < SAME) return AT;
  return `${margin < -HAIR ? "over" : "inside"} by ${units.apart(Math.abs(margin))}`;
}
