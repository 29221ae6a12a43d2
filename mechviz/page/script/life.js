/** The working life: the brake held on while its linings wear, under the working adjuster and under one that has stopped. */

import {LifePlot} from "./life_plot.js";
import {Strip, latest, nextPlace} from "./strip.js";
import {say} from "./svg.js";
import {Upkeep} from "./upkeep.js";

/** What a whole life takes at full speed. */
const SECONDS = 5;

/** What the adjuster's button says, and what is said before anything has come, for either kind of adjuster. */
const KINDS = {
  automatic: {
    name: {working: "Adjuster works", stopped: "Adjuster has stopped"},
    before: {
      working: "The adjuster takes the wear up as it comes: the stroke stays where it is.",
      stopped: "The adjuster has stopped: every bit of wear makes the stroke longer.",
    },
  },
  manual: {
    name: {working: "Adjusted when due", stopped: "Never adjusted again"},
    before: {
      working: "Somebody adjusts the brake whenever it is due: that brings the stroke back.",
      stopped: "Nobody adjusts the brake: every bit of wear makes the stroke longer.",
    },
  },
};

/** The mode of one player. */
export class Life {
  constructor(player, data, panel, signal) {
    Object.assign(this, {player, data, panel});
    this.kind = KINDS[player.facts.automatic ? "automatic" : "manual"];
    this.which = "working";
    this.hot = false;
    this.wear = 0;
    this.upkeeps = {working: new Upkeep(data.working), stopped: new Upkeep(data.stopped)};
    const find = (name) => panel.querySelector(`[data-role=life-${name}]`);
    Object.assign(this, {title: find("title"), words: find("words"), adjuster: find("adjuster"), drum: find("drum")});
    this.strip = new Strip(panel.querySelector("svg"));
    this.plot = new LifePlot(player.root.querySelector(".plots .of-life"), this);
    const acts = {adjuster: () => this.another(), drum: () => this.heat(), next: () => this.next(1), previous: () => this.next(-1)};
    for (const [name, act] of Object.entries(acts)) player.on(`life-${name}`, "click", act, signal);
  }

  get life() {
    return this.data[this.which];
  }

  /** What the brake is set to at a wear. */
  at(wear, which = this.which, hot = this.hot) {
    const {pressure, cold, hot: heated, new: thickness} = this.data;
    const setting = this.upkeeps[which].at(wear);
    return {pressure, lining: thickness - wear, temperature: hot ? heated : cold, setting};
  }

  get settings() {
    return this.at(this.wear);
  }

  get place() {
    return this.wear / this.life.end;
  }

  open() {
    this.player.clock.jump(1);
    this.lay();
  }

  close() {
    this.player.clock.halt();
  }

  /** Draw axis and plot for the life that is looked at. */
  lay() {
    const {strip, life, player} = this;
    strip.lay(life.events, life.end, () => this.#ticks());
    this.plot.solve(player.units);
    say(this.adjuster.querySelector("span"), this.kind.name[this.which]);
    say(this.drum.querySelector("span"), this.hot ? `Hot drum, ${player.units.text(this.data.hot, "temperature")}` : "Cold drum");
    this.adjuster.setAttribute("aria-pressed", String(this.which === "stopped"));
    this.drum.setAttribute("aria-pressed", String(this.hot));
  }

  #ticks() {
    const {units} = this.player;
    const left = (wear, decimals) => units.number(this.data.new - wear, "length", decimals);
    const {end} = this.life;
    const ticks = [0.25, 0.5, 0.75].map((share) => [share * end, left(share * end)]);
    return [[0, `new linings, ${units.text(this.data.new, "length")}`], ...ticks, [end, `${left(end)} ${units.word("length")} left`]];
  }

  /** Look at the other adjuster, at the same wear as far as its life goes. */
  another() {
    this.choose(this.which === "working" ? "stopped" : "working");
  }

  choose(which) {
    this.player.clock.halt();
    this.which = which;
    this.wear = Math.min(this.wear, this.life.end);
    this.#shown();
  }

  /** A drum that is cold or hot. */
  heat(hot = !this.hot) {
    this.hot = hot;
    this.#shown();
  }

  #shown() {
    this.lay();
    this.player.changed();
    this.player.shown();
  }

  jump(place) {
    this.player.clock.halt();
    this.wear = Math.min(Math.max(place, 0), 1) * this.life.end;
    this.player.changed();
    this.player.shown();
  }

  next(way) {
    this.jump(nextPlace(this.life.events, this.wear, this.life.end, way) / this.life.end);
  }

  /** Let the linings wear, from where they are to the end of this life. */
  play() {
    const {clock} = this.player;
    if (clock.calm()) return this.next(1);
    const {end} = this.life;
    const from = this.wear >= end ? 0 : this.wear;
    clock.jump(1);
    return clock.run(SECONDS * (1 - from / end), (share) => {
      this.wear = share >= 1 ? end : from + share * (end - from);
      this.player.changed();
    });
  }

  /** Write what has come, with the frame that shows it. */
  show() {
    const {units} = this.player;
    const {system} = units;
    const event = latest(this.life.events, this.wear);
    this.strip.stand(this.wear);
    say(this.title, event ? event.short[0].toUpperCase() + event.short.slice(1) : this.wear > 0 ? "The linings wear" : "New linings");
    say(this.words, event ? event.words[system][0].toUpperCase() + event.words[system].slice(1) : this.kind.before[this.which]);
  }

  get phaseWords() {
    const {units} = this.player;
    return `${units.text(this.wear, "length", units.system === "inch" ? 3 : 2)} of lining worn`;
  }

  drawn(state, verdict) {
    this.plot.show(this.wear, state, verdict);
  }

  resize() {
    this.strip.draw();
    this.plot.fit(this.player.units);
  }

  rule() {
    this.resize();
    this.lay();
  }

  text() {
    return [`k=${this.which}`, `y=${Number(this.wear.toFixed(4))}`, ...(this.hot ? ["h=1"] : [])];
  }

  read(given) {
    this.which = given.get("k") === "stopped" ? "stopped" : "working";
    this.hot = given.get("h") === "1";
    const wear = Number(given.get("y") ?? 0);
    this.wear = wear >= 0 && wear <= this.life.end ? wear : 0;
  }
}
