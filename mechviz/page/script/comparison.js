/** The figures of the brake as found beside those with a defect, the ones that differ in bold and marked. */

import {say} from "./svg.js";

/** Name, figure, kind. A figure of nothing in both is left out. */
const ROWS = [
  ["stroke", (o) => o.stroke, "length"],
  ["free stroke", (o) => o.free_stroke, "length"],
  ["arm, released", (o) => o.released_angle, "angle"],
  ["arm, applied", (o) => o.applied_angle, "angle"],
  ["least gap", (o) => least(o.gap_left, o.gap_right), "gap"],
  ["push on the rod", (o) => o.chamber_force, "force"],
  ["brake torque", (o) => o.brake_torque, "torque"],
  ["drag, released", (o) => o.drag, "torque", true],
  ["stroke swings by", (o) => o.swing, "length", true],
  ["torque swings by", (o) => o.torque_swing, "torque", true],
];

function least(left, right) {
  return left === null || right === null ? null : Math.min(left, right);
}

/** The table of one page. */
export class Comparison {
  constructor(table, data) {
    this.data = data;
    table.replaceChildren();
    this.head = this.#row(table, "th", ["", "as found", ""]);
    this.rows = ROWS.map(([name]) => this.#row(table, "td", [name, "", ""]));
  }

  #row(table, kind, cells) {
    const row = table.insertRow();
    return cells.map((words, i) => {
      const cell = document.createElement(i === 0 ? "th" : kind);
      cell.textContent = words;
      row.append(cell);
      return cell;
    });
  }

  /** Show a defect's figures; those of the brake as found alone for none. */
  show(fault, units) {
    const sound = this.data.sound;
    say(this.head[2], fault ? "with it" : "");
    ROWS.forEach(([, figure, kind, rare], i) => {
      const [name, before, after] = this.rows[i];
      const was = written(figure(sound), kind, units);
      const value = fault?.kept && kind === "gap" ? 0 : fault ? figure(fault.outcome) : null;
      const now = fault ? written(value, kind, units) : "";
      say(before, was);
      say(after, now);
      const row = name.parentNode;
      row.hidden = Boolean(rare) && !(value > 0);
      row.className = fault && now !== was ? "differs" : "";
    });
  }
}

function written(value, kind, units) {
  if (value === null) return "–";
  return kind === "gap" ? units.gap(value) : units.text(value, kind);
}
