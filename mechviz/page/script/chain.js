/** The chain of motion in four sentences, from the air to the drum, each with its figures in its verb's colour. */

import {draw, say, show, write} from "./svg.js";
import {airy, moved} from "./moved.js";
import {TOUCH, ofLinings} from "./touch.js";

/** What stands before the part of the push that is the power spring's. */
const SPRINGS = "the power spring gives ";

/** What stands before a pressure that only overcomes the springs, at first contact. */
const JUST = "just brings the lining there: ";

/** What air alone does: nothing of it is told where a hand pulls the arm. */
const OF_AIR = ["pressure", "chamber-force", "left", "force-lost", "left-roller", "right-roller"];

/** What can be read from outside the wheel. */
const SEEN = ["pressure", "arm-turn"];

/** The links: verb, the sentence of a state, and lines of words, the figure's id, and how it is written. */
const LINKS = [
  {
    verb: "push",
    sentence: (s, {by, back, hand}) => (hand ? "The hand pulls the arm" : moved(s) ? (by ?? (back ? "Air leaves, rod goes back" : "Air pushes the rod"))
      : !airy(s) ? "No air pushes" : back ? "Air leaves" : "Air enters, springs hold"),
    lines: [
      ["in the chamber ", "pressure", (s, u) => (airy(s) ? u.text(s.pressure, "pressure") : "–"), (more) => more.phase === "touches" && JUST],
      ["on the rod ", "chamber-force", (s, u) => u.text(s.chamberForce, "force")],
      ["left before it bottoms ", "left", (s, u, more) => (moved(s) ? u.text(more.left, "length") : "–")],
      ["lost to diaphragm and spring: ", "force-lost", (s, u, more) => more.spring ?? more.lost, (more) => more.spring && SPRINGS],
    ],
  },
  {
    verb: "turn",
    sentence: (s, {back, hand}) => (!moved(s) ? "Arm and cam rest" : hand ? "Arm and cam turn" : s.slack ? "The play is taken up first"
      : back && s.brakeTorque > 0 ? "The arm turns back" : back ? "Cam and arm turn back" : s.held ? "The rod winds the arm up" : "The rod turns arm and cam"),
    lines: [["the arm by ", "arm-turn", turned, null, woundUp]],
  },
  {
    verb: "spread",
    sentence: (s, {back}) => (s.held ? "The cam cannot turn" : back && s.brakeTorque > 0 ? "The cam still holds them out" : moved(s) && !s.slack && !back ? "The cam spreads the shoes"
      : (s.kept ?? "Springs pull the shoes in")),
    lines: [
      ["left roller ", "left-roller", (s, u) => u.text(s.rollerForce.left, "force")],
      ["right roller ", "right-roller", (s, u) => u.text(s.rollerForce.right, "force")],
    ],
  },
  {
    verb: "rub",
    sentence: (s) => (s.brakeTorque > 0 ? ofLinings(s, "rub the drum", "rubs") : least(s) > TOUCH ? "The linings clear the drum"
      : s.kept ? ofLinings(s, "drag", "drags") : ofLinings(s, "touch the drum", "touches")),
    lines: [
      ["least gap: ", "gap-least", (s, u) => u.gap(least(s))],
      ["brake torque ", "brake-torque", (s, u) => u.text(s.brakeTorque, "torque")],
    ],
  },
];

/** A smaller turn (rad) is not told. */
const SEEN_TURN = (0.05 * Math.PI) / 180;

/** A line for one link of the list. */
function item(list, verb) {
  const node = document.createElement("li");
  node.className = `of-${verb}`;
  list.append(node);
  return node;
}

/** The least gap (mm) of both shoes. */
function least(state) {
  return Math.min(state.gaps.left.least, state.gaps.right.least);
}

/** How far the arm has turned. */
function turned({stroke, armTurn}, units) {
  return moved({stroke}) && armTurn > SEEN_TURN ? units.text(armTurn, "angle") : "–";
}

/** How much of that the cam has not: shafts and brackets give. It is not seen from outside. */
function woundUp({armTurn, camTurn}, units) {
  const wound = armTurn - camTurn;
  return wound > SEEN_TURN ? `, ${units.text(wound, "angle")} wind-up` : "";
}

/** How much of pressure times area does not reach the rod; a dash before the diaphragm is stretched. */
export function kept({pressure, chamberForce}, {area}, share, least) {
  if (!(share < 1 - least)) return NaN;
  return 1 - chamberForce / (pressure * area);
}

/** The sentences of one picture, and once more in `list`, where the picture is too small for words. */
export class Chain {
  constructor(group, facts, list) {
    const [x, top] = facts.layout.figures;
    const {sentence, line, apart} = facts.notes.chain;
    let y = top;
    this.lost = facts.notes.chain.lost;
    this.area = facts.sizes.area;
    list.replaceChildren();
    this.items = LINKS.map(({verb}) => item(list, verb));
    this.links = LINKS.map((link) => {
      y += sentence;
      const head = write(group, "", x, y, {class: `mv-figure mv-of-${link.verb}`});
      if (!["push", "turn"].includes(link.verb)) head.dataset.inside = "";
      const lines = link.lines.map(([lead, id, text, other, hidden]) => {
        y += line;
        return this.#line(group, x, y, {lead, id, text, other, hidden, verb: link.verb});
      });
      y += apart;
      return {head, sentence: link.sentence, lines};
    });
  }

  #line(group, x, y, {lead, id, text, other, hidden, verb}) {
    const node = write(group, lead, x, y);
    node.dataset.of = id;
    if (!SEEN.includes(id)) node.dataset.inside = "";
    const figure = () => draw(node, "tspan", {class: `mv-of-${verb}`});
    const value = figure();
    value.id = `value-${id}`;
    const inside = hidden ? figure() : null;
    if (inside) inside.dataset.inside = "";
    return {node, text, other, hidden, inside, lead: node.firstChild, own: lead, value};
  }

  /** Show a state. Figures that it does not have are left out. `share` of the push reaches the rod. */
  show(state, units, {share, left, by, back, spring, phase, hand}) {
    const lost = kept(state, this, share, this.lost);
    const more = {left, spring, phase, lost: lost > 0 ? `${Math.round(100 * lost)} %` : "–"};
    const exists = state.reason === 0;
    this.links.forEach(({head, sentence, lines}, i) => {
      const said = exists ? sentence(state, {by, back, hand}) : "";
      say(head, said);
      say(this.items[i], said);
      for (const {node, text, value, lead, own, other, hidden, inside} of lines) {
        const words = hand && OF_AIR.includes(node.dataset.of) ? "–" : text(state, units, more);
        say(value, words);
        if (inside) say(inside, words === "–" ? "" : hidden(state, units));
        if (other) lead.data = other(more) || own;
        show(node, words !== "–");
      }
    });
  }
}
