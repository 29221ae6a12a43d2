/** The live figures: in the picture, and once more as a list for small screens and for assistive technology. */

import {marginWords, VERDICTS} from "./gauge.js";
import {stands} from "./notes.js";
import {put, say, write} from "./svg.js";

const ROW = 46;
const LOST = 0.05;

/** What can be read from outside. */
const SEEN = ["pressure", "arm angle"];

/** Every figure: its name, the verb it belongs to, its id in the picture, and how it is written. */
const ROWS = [
  ["pressure", "push", "value-pressure", (s, u) => u.text(s.pressure, "pressure")],
  ["chamber force", "push", "value-chamber-force", (s, u) => u.text(s.chamberForce, "force")],
  ["force lost", "push", "value-force-lost", (s, u, more) => lost(more.share)],
  ["arm angle", "turn", "", (s, u) => u.text(s.armAngle, "angle")],
  ["least gap", "rub", "value-gap-least", (s, u) => u.gap(Math.min(s.gaps.left.least, s.gaps.right.least))],
  ["brake torque", "rub", "value-brake-torque", (s, u) => u.text(s.brakeTorque, "torque")],
  ["lining left", "rub", "value-lining", (s, u, more) => u.text(more.lining, "length")],
  ["drum", "rub", "value-drum", (s, u, more) => u.text(more.temperature, "temperature")],
];

/** The share of the chamber's push that its stretched diaphragm no longer gives. */
function lost(share) {
  if (!Number.isFinite(share)) return "–";
  return share < 1 - LOST ? `${Math.round(100 * (1 - share))} %` : "none";
}

/** The column of figures in the picture. */
export class Figures {
  constructor(group, [x, y, width]) {
    this.rows = ROWS.map(([name, verb, id, text], i) => {
      const at = y + 34 + i * ROW;
      const label = write(group, name, x + 20, at);
      const value = write(group, "", x + width, at, {"text-anchor": "end", class: `mv-figure mv-of-${verb}`});
      if (!SEEN.includes(name)) for (const node of [label, value]) node.dataset.inside = "";
      if (id) put(value, "id", id);
      return {name, label, value, text};
    });
  }

  /** Show a state; figures that do not exist are a dash. */
  show(state, units, more) {
    for (const {name, value, text} of this.rows) {
      say(value, text(state, units, more));
      if (name === "force lost") put(value, "class", `mv-figure ${more.share < 1 - LOST ? "verdict-over" : "mv-of-push"}`);
    }
  }
}

/** The list beside the picture. */
export class FigureList {
  constructor(list) {
    this.list = list;
    this.rows = ["stroke", "limit", "margin", ...ROWS.map(([name]) => name)].map((name) => this.#row(name));
  }

  #row(name) {
    const [term, value] = [document.createElement("dt"), document.createElement("dd")];
    term.textContent = name;
    value.dataset.figure = name.replaceAll(" ", "-");
    const pair = document.createElement("div");
    pair.append(term, value);
    this.list.append(pair);
    return value;
  }

  /** Show a state with its verdict. */
  show(state, units, more) {
    const {facts, verdict} = more;
    const exists = state.reason === 0;
    const limit = units.system === "inch" ? facts.limit.inches : units.text(facts.limit.stroke, "length");
    const [stroke, bound, margin, ...others] = this.rows;
    say(stroke, exists ? `${units.text(state.stroke, "length")}, ${VERDICTS[verdict].word}` : "–");
    stroke.className = `verdict-${verdict}`;
    say(bound, limit);
    say(margin, marginWords(state.stroke, facts, units, exists).replace("margin ", ""));
    others.forEach((node, i) => {
      const [name, , , text] = ROWS[i];
      const words = text(state, units, more);
      say(node, name === "arm angle" && exists ? `${words}, ${stands(state.armAngle)}` : words);
    });
  }
}
