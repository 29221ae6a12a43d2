/** The part that is picked: its name, what it does, what an inspector looks for; said aloud when it is another one. */

import {say} from "./svg.js";

/** The panel beside one canvas. `picked(part)` is told of another part, null for none. */
export class PartPanel {
  constructor(box, picked) {
    Object.assign(this, {box, picked, part: null});
    const find = (name) => box.querySelector(`[data-role=part-${name}]`);
    Object.assign(this, {title: find("title"), does: find("does"), look: find("look"), group: find("look-for")});
  }

  /** Show a part; nothing for null. */
  pick(part) {
    if (part === this.part) return;
    this.part = part;
    this.box.dataset.verb = part?.verb ?? "";
    this.box.dataset.picked = part ? "yes" : "no";
    say(this.title, part?.title ?? "Parts");
    say(this.does, part?.does ?? "Click or tap a part for its name, what it does and what an inspector looks for.");
    say(this.look, part?.lookFor ?? "");
    this.group.hidden = !part?.lookFor;
    this.picked(part);
  }

  /** The next part of those that are shown (1), or the one before (-1); beyond the ends it goes round. */
  next(parts, way) {
    const at = this.part ? parts.indexOf(this.part) : way > 0 ? -1 : 0;
    this.pick(parts.at((at + way + parts.length) % parts.length) ?? null);
  }
}
