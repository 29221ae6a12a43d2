/**
 * The player: a brake that is pressed and let go, its settings, its story, and everything that is drawn of it.
 *
 *     import {mount} from "./player.js";
 *     const player = mount(element, data);      // data as mechviz/page/html.py makes it
 *     player.destroy();                         // leaves nothing behind: no listener, no timer, no frame
 *
 * Several may stand on one page.
 */

import {Clock} from "./clock.js";
import {Controls} from "./controls.js";
import {patched} from "./faults.js";
import {open} from "./interpolate.js";
import {listen} from "./keys.js";
import {Modes} from "./modes.js";
import {moved} from "./moved.js";
import {Scene} from "./scene.js";
import {Section} from "./section.js";
import {Settings} from "./settings.js";
import {Solid} from "./solid.js";
import {Teller} from "./teller.js";
import {inState, ofLinings} from "./touch.js";
import {Travel} from "./travel.js";
import {Units} from "./units.js";
import {said, VERDICTS} from "./verdict.js";
import {View} from "./view.js";

const SPEEDS = [0.1, 0.25, 0.5, 1];
const PHASES = {
  released: "released",
  fills: "air enters, the springs still hold",
  travels: "the rod moves, the linings do not touch yet",
  touches: (state) => ofLinings(state, "touch the drum", "touches the drum first", "the"),
  presses: (state) => ofLinings(state, "press on the drum", "presses on the drum", "the"),
  strains: "the cam cannot turn: all stroke is wind-up",
  slack: "the rod takes up the play, the arm does not move yet",
  applied: "applied",
  stopped: "cannot go on",
};

/** Phases that a hand at the arm can bring about. */
const BY_HAND = ["fills", "travels", "touches"];

/** The same on the way back, where it is another. */
const BACK = {
  fills: "the air leaves, the rod is back",
  travels: "the springs pull the shoes in and turn all back",
  touches: "the linings come off the drum",
  presses: "the air leaves, the linings press less",
};

/** One brake on a page. Made by `mount`. */
class Player {
  constructor(el, data) {
    this.ending = new AbortController();
    const {signal} = this.ending;
    if (data.markup && !el.querySelector(".mechviz")) el.innerHTML = data.markup;
    this.root = el.querySelector(".mechviz");
    /** Parts that are talked about, by the names of their outlines; and the only names that are written, null for all. */
    Object.assign(this, {pointed: [], only: null, hand: false});
    this.units = new Units(data.facts.units, data.facts.system);
    this.clock = new Clock(() => this.#draw(), () => matchMedia("(prefers-reduced-motion: reduce)").matches);
    this.sound = {table: data.table, motion: data.motion, facts: data.facts, shapes: {}, section: data.air?.section, solid: null};
    this.#take(this.sound);
    const {section} = this.sound;
    this.section = section ? new Section(this.scene.svg, section, this.facts) : null;
    this.settings = new Settings(this.model);
    const told = {changed: (part) => this.#set(part), done: () => this.#done()};
    this.controls = new Controls(this.root, this.model, this.settings, this.facts, this.units, told, signal);
    this.teller = new Teller(this.root, this, signal);
    this.modes = new Modes(this, {life: data.life, faults: data.defects, air: data.air}, signal);
    this.view = new View(this, data, signal);
    this.solid = new Solid(this, data.solid, signal);
    this.#wire(signal);
    const heard = data.wholePage || data.keysWide ? this.root.ownerDocument : this.root;
    listen(heard, this, signal);
    this.scene.resize(this.units);
    this.view.restore();
    this.changed();
    this.#draw();
    this.root.ownerDocument.fonts?.ready.then(() => signal.aborted || this.#lettered());
  }

  /** Solve and draw another brake: the one as found, or one with a defect. */
  fit(brake) {
    if (brake === this.fitted) return;
    this.#take(brake);
    this.section?.fit(brake.section, this.facts);
    this.scene.mode = this.modes.name;
    this.scene.resize(this.units);
    this.verdict = this.reason = null;
    this.solid.fit();
    this.changed();
  }

  /** Move as another brake at once, by a light answer (mechviz/page/light.py); null is the page's own brake again. */
  patch(patch) {
    if (this.modes.name !== "brake") return;
    this.standing = null;
    this.fit(patch ? patched(this.sound, patch) : this.sound);
    if (patch) this.standing = this.model.found;
  }

  #take(brake) {
    this.fitted = brake;
    this.facts = brake.facts;
    this.model = open(brake.table);
    this.travel = new Travel(this.model);
    this.state = this.model.blank();
    this.scene = new Scene(this.root, this.model, brake);
    this.scene.name(this.only);
  }

  /** Point at parts, by the names of their outlines: they are lit, in the drawing and in space. */
  point(names) {
    this.pointed = names;
    for (const node of this.root.querySelectorAll(".plane .part")) {
      node.classList.toggle("pointed", names.includes(node.id.slice("part-".length).replaceAll("-", "_")));
    }
    this.root.dataset.pointed = names.length ? "yes" : "no";
  }

  /** Write these names only; null writes all. */
  name(words) {
    this.only = words;
    this.scene.name(words);
  }

  /** The letters are there: what was measured without them is measured again. */
  #lettered() {
    this.scene.lettered();
    this.modes.now?.resize();
    this.changed();
  }

  /** Measure and draw everything at once, as before a print: no frame comes in between. */
  drawAnew() {
    this.scene.lettered();
    this.scene.resize(this.units);
    this.dirty = true;
    this.#draw();
  }

  /** Take everything back. */
  destroy() {
    this.ending.abort();
    this.clock.stop();
  }

  /** What a reader has set that is no setting of the brake: it may be handed to the player that comes after this one. */
  get looked() {
    return {...this.view.looked, place: this.clock.target};
  }

  /** Look at the brake as at another one before. */
  look({place, ...view}) {
    this.view.look(view);
    this.clock.jump(place);
    this.shown();
  }

  #find(name) {
    return this.root.querySelector(`[data-role=${name}]`);
  }

  #wire(signal) {
    this.button = this.#find("press");
    this.scrubber = this.#find("scrub");
    this.speedMenu = this.#find("speed");
    this.cannot = this.#find("cannot");
    this.spoken = this.#find("said");
    const acts = {
      press: () => this.press(),
      play: () => this.play(),
      back: () => this.scrub(-0.02),
      forward: () => this.scrub(0.02),
      undo: () => this.travelBack(true),
      redo: () => this.travelBack(false),
      reset: () => this.reset(),
      story: () => this.story(),
    };
    for (const [name, act] of Object.entries(acts)) this.on(name, "click", act, signal);
    this.scrubber.addEventListener("input", () => this.jump(Number(this.scrubber.value) / 1000), {signal});
    this.speedMenu.addEventListener("change", () => this.#speed(Number(this.speedMenu.value)), {signal});
  }

  /** Let an element act on an event. After a click by hand it gives the focus back, so that the space bar brakes. */
  on(name, event, act, signal) {
    this.#find(name).addEventListener(event, (happened) => {
      act();
      if (happened.detail > 0) happened.currentTarget.blur();
    }, {signal});
  }

  /** Where the scrubber stands: in the application, or in what the mode plays. */
  get along() {
    return this.modes.now?.place ?? this.clock.place;
  }

  /** Whether the brake is on its way back. */
  get back() {
    return this.modes.now?.back ?? this.clock.back;
  }

  /** Stand there at once. */
  jump(place) {
    const {now} = this.modes;
    if (now?.jump) now.jump(place);
    else this.clock.jump(place);
  }

  /** Press the brake, or let it go. */
  press() {
    const {now} = this.modes;
    if (now?.press) {
      now.press();
      return;
    }
    this.#lead();
    if (now?.place !== undefined) this.clock.halt();
    this.clock.go(this.clock.target < 1 ? 1 : 0);
    this.shown();
  }

  /** Press and let go by turns, or stop. */
  play() {
    const {clock} = this;
    if (clock.moving) clock.pause();
    else if (!clock.resume()) (this.modes.now?.play ? this.modes.now : clock).play();
    this.shown();
  }

  /** Move by hand through the application. */
  scrub(step) {
    this.#lead();
    this.jump(Math.min(Math.max(Math.round((this.along + step) * 1000) / 1000, 0), 1));
    this.shown();
  }

  /** Whoever moves the brake by hand leads the story from there. */
  #lead() {
    if (this.teller.telling && this.teller.auto) this.teller.run(false);
  }

  faster(way) {
    const at = SPEEDS.indexOf(this.clock.speed) + way;
    if (SPEEDS[at]) this.#speed(SPEEDS[at]);
  }

  #speed(speed) {
    this.clock.speed = speed;
    this.speedMenu.value = String(speed);
  }

  story() {
    this.modes.open("brake");
    if (this.teller.telling) this.teller.end();
    else this.teller.start();
    this.shown();
  }

  travelBack(back) {
    if (this.teller.telling || this.modes.now) return;
    this.controls.forget();
    if (back ? this.settings.undo() : this.settings.redo()) this.changed();
    this.shown();
  }

  reset() {
    if (this.teller.telling) return;
    if (this.modes.now) {
      this.modes.now.reset?.();
      return;
    }
    this.settings.reset();
    this.controls.forget();
    this.changed();
    this.shown();
  }

  fullScreen() {
    this.view.fullScreen();
  }

  large() {
    this.view.large();
  }

  switchUnits() {
    this.view.switchUnits();
  }

  switchTheme() {
    this.view.switchTheme();
  }

  labels() {
    this.view.labels();
  }

  help() {
    this.view.help();
  }

  get helping() {
    return this.view.helping;
  }

  #set(part) {
    this.standing = null;
    this.settings.change(part);
    this.changed();
  }

  #done() {
    this.settings.commit();
    this.shown();
  }

  /** The settings are others: solve the application anew and draw it. */
  changed() {
    this.dirty = true;
    this.clock.wake();
  }

  /** Something worth keeping in the address has changed. */
  shown() {
    this.view.remember();
    this.clock.wake();
  }

  #draw() {
    const {travel, settings, units, clock, scene} = this;
    const mode = this.modes.now;
    if (this.dirty) {
      travel.set({...(mode?.settings ?? this.standing ?? settings.now)});
      travel.held = mode?.still ?? mode?.resting ?? null;
      scene.settle(travel, units);
      this.controls.show();
      this.dirty = false;
    }
    const phase = this.#state(mode);
    const verdict = scene.show(this.state, travel, phase, units, {...mode?.told, ...this.#pulled(phase), back: this.back});
    mode?.show?.();
    mode?.drawn?.(phase === "stopped" ? scene.none : this.state, verdict);
    this.solid.draw();
    this.#transport(phase);
    this.#stopped(phase);
    this.#say(verdict);
  }

  /** What is told where no air pushes, but a hand pulls the arm: as far as the linings, and no further. */
  #pulled(phase) {
    return this.hand && BY_HAND.includes(phase) ? {hand: true, doing: "Pulled by hand"} : {};
  }

  /** Work the state out that is drawn now; returns what goes on in it. */
  #state(mode) {
    const {travel, clock, state} = this;
    if (mode?.state) return mode.phase(mode.state(state));
    travel.state(clock.place, state);
    mode?.pose?.(state);
    const along = travel.possible ? travel.phase(clock.place) : "stopped";
    const phase = along === "travels" && !moved(state) ? "fills" : along;
    return mode?.phase ? mode.phase(phase) : phase;
  }

  #transport(phase) {
    const {clock, scrubber, button} = this;
    const place = String(Math.round(1000 * this.along));
    if (scrubber.value !== place) scrubber.value = place;
    const words = this.modes.now?.phaseWords ?? ((this.back && BACK[phase]) || inState(PHASES[phase], this.state));
    if (words !== this.phase) {
      this.phase = words;
      scrubber.setAttribute("aria-valuetext", words);
      this.#find("phase").textContent = words;
    }
    const running = clock.moving;
    const [on, off] = this.modes.name === "air" ? ["Stop", "Let time run"] : ["Release the brake", "Press the brake"];
    const does = (this.modes.name === "air" ? running : clock.target > 0.5) ? on : off;
    if (does !== this.does) {
      this.does = does;
      button.firstChild.textContent = does;
    }
    if (running !== this.running) {
      this.running = running;
      this.#find("play").firstChild.textContent = running ? "Pause" : "Play";
      if (!running) this.view.remember();
    }
  }

  /** A state that cannot exist says why, and the last pose that can is grey. */
  #stopped(phase) {
    const stopped = phase === "stopped";
    const reason = stopped ? this.#reason(this.travel.reason) : "";
    if (reason === this.reason) return;
    this.reason = reason;
    this.root.dataset.stopped = stopped ? "yes" : "no";
    this.cannot.hidden = !stopped;
    if (!stopped) return;
    const grey = this.travel.possible ? "In grey: the last pose that is possible." : "In grey: the last pose shown, which was possible.";
    this.cannot.querySelector("p").textContent = `${reason[0].toUpperCase()}${reason.slice(1)}. ${grey}`;
  }

  #reason(code) {
    const found = Object.values(this.model.reasons).find((one) => one.code === code);
    return found ? found.words : "";
  }

  /** Tell a change of the verdict, and nothing in between. */
  #say(verdict) {
    if (verdict === this.verdict) return;
    this.verdict = verdict;
    this.root.dataset.verdict = verdict;
    if (verdict === "open") return;
    const {state, units, facts} = this;
    const stroke = ["none", "spent"].includes(verdict) ? "" : `Stroke ${units.text(state.stroke, "length")}, `;
    this.spoken.textContent = `${stroke}${VERDICTS[verdict].word}: ${said(verdict, state, facts, units, true)}.`;
  }
}

/** Put a brake into an element. Returns the player, whose `destroy` takes it back. */
export function mount(el, data) {
  return new Player(el, data);
}
