/** Which lining touches the drum, in the words of every sentence that tells it. */

/** A gap below this (mm) is contact. */
export const TOUCH = 1e-3;

/** Whether a shoe's lining touches. */
export function touches(gaps) {
  return gaps.least <= TOUCH;
}

/** The one side whose lining touches; null where both do, or none. */
export function onlySide({gaps}) {
  const [left, right] = [touches(gaps.left), touches(gaps.right)];
  return left === right ? null : left ? "left" : "right";
}

/** A sentence on the linings that touch: of both by its words for many, of one by those for one. */
export function ofLinings(state, many, one, start = "The") {
  const side = onlySide(state);
  return side ? `${start} ${side} lining ${one}` : `${start} linings ${many}`;
}

/** Words that are the same in every state, or a function of it. */
export function inState(words, state) {
  return typeof words === "function" ? words(state) : words;
}
