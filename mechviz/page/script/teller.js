/** Tells the story: one step after the other, by itself until somebody takes the lead. */

import {tale} from "./tale.js";

const WALK = 4.5;
/** Seconds to read a word, and to start with. */
const WORD = 0.34;
const START = 1.5;

/** The story of one page. `player` is moved by it; the caption is a part of the page. */
export class Teller {
  constructor(root, player, signal) {
    this.player = player;
    this.root = root;
    this.box = root.querySelector("[data-role=caption]");
    const find = (name) => this.box.querySelector(`[data-role=${name}]`);
    [this.count, this.title, this.words, this.lead] = ["count", "title", "words", "lead"].map(find);
    this.at = -1;
    this.auto = false;
    this.timer = 0;
    const on = (name, what) => find(name).addEventListener("click", what, {signal});
    on("next", () => this.next());
    on("previous", () => this.previous());
    on("end", () => this.end());
    this.lead.addEventListener("click", () => this.run(!this.auto), {signal});
    signal.addEventListener("abort", () => clearTimeout(this.timer));
  }

  get telling() {
    return this.at >= 0;
  }

  /** Start the story at a step, by itself or led by the reader. */
  start(step = 0, auto = true) {
    const {player} = this;
    this.steps = tale(player.model, player.facts);
    this.kept = {...player.settings.now};
    player.settings.commit();
    this.box.hidden = false;
    this.root.dataset.story = "yes";
    player.controls.enable(false);
    this.auto = auto;
    this.#tell(Math.min(Math.max(step, 0), this.steps.length - 1), true);
  }

  next() {
    this.auto = false;
    this.#on();
  }

  #on() {
    if (this.at < this.steps.length - 1) this.#tell(this.at + 1, false);
    else if (this.auto) this.run(false);
  }

  previous() {
    this.auto = false;
    if (this.at > 0) this.#tell(this.at - 1, true);
  }

  /** Go on by itself, or wait for the reader. */
  run(auto) {
    this.auto = auto;
    this.#leadWords();
    if (auto) this.#wait();
    else clearTimeout(this.timer);
  }

  /** Leave the story; the settings are again what they were before it. */
  end() {
    if (!this.telling) return;
    clearTimeout(this.timer);
    const {player} = this;
    this.at = -1;
    this.box.hidden = true;
    delete this.root.dataset.story;
    player.scene.outside(false);
    player.controls.enable(true);
    player.clock.halt();
    player.settings.change(this.kept);
    player.settings.before = null;
    player.clock.jump(0);
    player.changed();
    player.shown();
  }

  /** Write the words again, in other units. */
  write() {
    if (!this.telling) return;
    const step = this.steps[this.at];
    this.count.textContent = `${this.at + 1} of ${this.steps.length}`;
    this.title.textContent = step.title;
    this.words.textContent = step.words(this.player.units).replace(/\s+/g, " ");
    this.#leadWords();
  }

  #leadWords() {
    const last = this.telling && this.at === this.steps.length - 1;
    this.lead.textContent = this.auto ? "Stop here" : "Run by itself";
    this.lead.hidden = last && !this.auto;
  }

  /** Tell a step; `anew` sets the brake to where the step begins, for one that is not come to from the step before. */
  #tell(index, anew) {
    clearTimeout(this.timer);
    const {player} = this;
    this.at = index;
    const step = this.steps[index];
    player.clock.halt();
    if (anew || step.how === "apply") this.#begin(index);
    player.scene.outside(Boolean(step.outside));
    this.write();
    this.#move(step);
    player.shown();
  }

  /** Where a step starts: at the settings of the one before; released if it is to be applied. */
  #begin(index) {
    const {player, steps} = this;
    const before = steps[Math.max(index - 1, 0)];
    const step = steps[index];
    player.settings.change(step.how === "apply" ? step.settings : before.settings);
    player.clock.jump(step.how === "apply" ? 0 : 1);
    player.changed();
  }

  #move(step) {
    const {player} = this;
    const done = () => this.auto && this.#wait();
    if (step.how === "apply") player.clock.go(1, done);
    else if (step.how === "release") player.clock.go(0, done);
    else this.#walk(step.settings, done);
    if (player.clock.calm()) done();
  }

  #walk(to, done) {
    const {player} = this;
    const from = {...player.settings.now};
    player.clock.jump(1);
    player.clock.stroll(WALK, (share) => {
      const part = Object.fromEntries(Object.keys(to).map((name) => [name, share >= 1 ? to[name] : from[name] + share * (to[name] - from[name])]));
      player.settings.change(part);
      player.changed();
    }, done);
  }

  /** Give time to read, then go on. */
  #wait() {
    clearTimeout(this.timer);
    const words = this.words.textContent.split(" ").length;
    this.timer = setTimeout(() => this.auto && this.#on(), 1000 * (START + WORD * words));
  }
}
