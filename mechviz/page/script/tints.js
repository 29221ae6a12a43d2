/** The colours of the solid view: those of the page, as its style sheet has them in its theme. */

const VERBS = ["push", "turn", "spread", "rub", "hold"];

/**
 * All colours as shares of red, green and blue. `shares` is how much of its verb's colour a surface has, the ground being
 * the rest; `dark` is 1 on a dark ground.
 */
export function tints(root, shares) {
  const style = getComputedStyle(root);
  const named = (name) => channels(style.getPropertyValue(`--mv-${name}`).trim());
  const [paper, ink, soft] = [named("paper"), named("ink"), named("soft")];
  const dark = light(paper) < 0.5;
  const ground = dark ? soft : paper;
  const verbs = Object.fromEntries(VERBS.map((verb) => {
    const full = named(verb);
    return [verb, {full, fill: mixed(ground, full, shares[verb]), line: mixed(full, ink, 0.55)}];
  }));
  verbs.wheel = {...verbs.hold, fill: mixed(paper, verbs.hold.full, shares.wheel)};
  return {paper, ink, verbs, dark: dark ? 1 : 0};
}

/** Red, green and blue of `#RRGGBB`, 0 to 1. */
function channels(text) {
  return [1, 3, 5].map((at) => parseInt(text.slice(at, at + 2), 16) / 255);
}

/** From one colour to another. */
export function mixed(from, to, share) {
  return from.map((value, k) => value + share * (to[k] - value));
}

function light([red, green, blue]) {
  return 0.3 * red + 0.6 * green + 0.1 * blue;
}
