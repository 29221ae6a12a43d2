/** The chain of motion in four sentences, from the air to the drum, each with its figures in its verb's colour. */

import {draw, put, say, show, write} from "./svg.js";

const TOUCH = 1e-3;

/** What stands before the part of the push that is the power spring's. */
const SPRINGS = "the power spring gives ";

/** What can be read from outside the wheel. */
const SEEN = ["pressure", "arm-turn"];

/** The links: verb, the sentence of a state, and lines of words, the figure's id, and how it is written. */
const LINKS = [
  {
    verb: "push",
    sentence: (s, by) => (s.stroke > 0 ? (by ?? "Air pushes the rod") : s.pressure > 0 ? "Air enters, springs hold" : "No air pushes"),
    lines: [
      ["in the chamber ", "pressure", (s, u) => (s.pressure > 0 ? u.text(s.pressure, "pressure") : "–")],
      ["on the rod ", "chamber-force", (s, u) => u.text(s.chamberForce, "force")],
      ["left before it bottoms ", "left", (s, u, more) => (s.stroke > 0 ? u.text(more.left, "length") : "–")],
      ["so near its end ", "force-lost", (s, u, more) => more.spring ?? more.lost],
    ],
  },
  {
    verb: "turn",
    sentence: (s) => (s.held && s.stroke > 0 ? "The rod winds the arm up" : s.stroke > 0 ? "The rod turns arm and cam" : "Arm and cam rest"),
    lines: [["the arm by ", "arm-turn", (s, u) => (s.stroke > 0 ? u.text(s.armTurn, "angle") : "–")]],
  },
  {
    verb: "spread",
    sentence: (s) => (s.held ? "The cam cannot turn" : s.stroke > 0 ? "The cam spreads the shoes" : (s.kept ?? "Springs pull the shoes in")),
    lines: [
      ["left roller ", "left-roller", (s, u) => u.text(s.rollerForce.left, "force")],
      ["right roller ", "right-roller", (s, u) => u.text(s.rollerForce.right, "force")],
    ],
  },
  {
    verb: "rub",
    sentence: (s) => (s.brakeTorque > 0 ? "The linings rub the drum" : least(s) <= TOUCH ? (s.kept ? "One lining drags" : "The first lining touches") : "The linings clear the drum"),
    lines: [
      ["least gap: ", "gap-least", (s, u) => u.gap(least(s))],
      ["brake torque ", "brake-torque", (s, u) => u.text(s.brakeTorque, "torque")],
    ],
  },
];

/** The least gap (mm) of both shoes. */
function least(state) {
  return Math.min(state.gaps.left.least, state.gaps.right.least);
}

/** The sentences of one picture. */
export class Chain {
  constructor(group, facts) {
    const [x, top] = facts.layout.figures;
    const {sentence, line, apart} = facts.notes.chain;
    let y = top;
    this.lost = facts.notes.chain.lost;
    this.links = LINKS.map((link) => {
      y += sentence;
      const head = write(group, "", x, y, {class: `mv-figure mv-of-${link.verb}`});
      if (!["push", "turn"].includes(link.verb)) head.dataset.inside = "";
      const lines = link.lines.map(([lead, id, text]) => {
        y += line;
        return this.#line(group, x, y, {lead, id, text, verb: link.verb});
      });
      y += apart;
      return {head, sentence: link.sentence, lines};
    });
  }

  #line(group, x, y, {lead, id, text, verb}) {
    const node = write(group, lead, x, y);
    if (!SEEN.includes(id)) node.dataset.inside = "";
    return {node, text, lead: node.firstChild, own: lead, value: draw(node, "tspan", {id: `value-${id}`, class: `mv-of-${verb}`})};
  }

  /** Show a state. Figures that it does not have are left out. `share` of the push reaches the rod. */
  show(state, units, {share, left, by, spring}) {
    const more = {left, spring, lost: share < 1 - this.lost ? `${Math.round(100 * (1 - share))} % lost` : "–"};
    const exists = state.reason === 0;
    for (const {head, sentence, lines} of this.links) {
      say(head, exists ? sentence(state, by) : "");
      for (const {node, text, value, lead, own} of lines) {
        const words = text(state, units, more);
        say(value, words);
        if (value.id === "value-force-lost") lead.data = spring ? SPRINGS : own;
        show(node, words !== "–");
      }
    }
  }
}
