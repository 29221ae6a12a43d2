/** The live figures once more as a list, for small screens and for assistive technology. */

import {stands} from "./notes.js";
import {put, say} from "./svg.js";
import {marginWords, said, VERDICTS} from "./verdict.js";

/** Every figure behind the first three: its name, and how it is written. */
const ROWS = [
  ["pressure", (s, u, more) => (more.phase === "touches" ? `${u.text(s.pressure, "pressure")}, just brings the lining there` : u.text(s.pressure, "pressure"))],
  ["chamber force", (s, u) => u.text(s.chamberForce, "force")],
  ["left before it bottoms", (s, u, more) => u.text(more.left, "length")],
  ["arm angle", (s, u) => (s.reason === 0 ? `${u.text(s.armAngle, "angle")}, ${stands(s.armAngle)}` : "–")],
  ["least gap", (s, u) => u.gap(Math.min(s.gaps.left.least, s.gaps.right.least))],
  ["brake torque", (s, u) => u.text(s.brakeTorque, "torque")],
  ["lining left", (s, u, more) => u.text(more.settings.lining, "length")],
  ["drum", (s, u, more) => u.text(more.settings.temperature, "temperature")],
];

/** The list of one page. */
export class FigureList {
  constructor(list, facts) {
    this.list = list;
    list.replaceChildren();
    this.facts = facts;
    this.rows = ["stroke", "verdict", "limit", "margin", ...ROWS.map(([name]) => name)].map((name) => this.#row(name));
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
    const {facts} = this;
    const exists = state.reason === 0;
    const [stroke, verdict, limit, margin, ...others] = this.rows;
    say(stroke, exists ? units.text(state.stroke, "length") : "–");
    say(verdict, `${VERDICTS[more.verdict].word}: ${said(more.verdict, state, facts, units, more.applied)}`);
    put(verdict, "class", `verdict-${more.verdict}`);
    say(limit, `${more.limit.limit}${more.limit.name === "limit " ? "" : ", for a cold drum"}`);
    say(margin, exists ? marginWords(state.stroke, facts, units) : "–");
    others.forEach((node, i) => say(node, ROWS[i][1](state, units, more)));
  }
}
