/**
 * A lesson: steps that a class is led through by keys or a clicker, on the moving brake.
 *
 *     import {mountLesson} from "./lesson.js";
 *     const lesson = mountLesson(element, data);    // data as mechviz/lessons/data.py makes it
 *     lesson.destroy();
 *
 * The element tells of every step by an event `lessonstep` with `{at, shown}` as its detail.
 *
 * A step with a question shows it first; the next key answers it, and only then the brake moves. The step stands in the
 * address of a page that is a lesson and nothing else; elsewhere `data.kept` begins as its `text` says, and is told what
 * has `changed`.
 */

import {LessonBox} from "./lesson_box.js";
import {listenToLesson} from "./lesson_keys.js";
import {NotesWindow} from "./lesson_notes.js";
import {Pen} from "./lesson_pen.js";
import {begin, calm, play, reveal} from "./lesson_show.js";
import {mount} from "./player.js";

/** How long (ms) a class looks at where a step begins before it moves by itself. */
const LOOK = 900;

/** A step of its own: some defect, which the class is to find. */
const GUESS = {
  title: "Find the fault",
  page: "faults",
  view: "drawing",
  plot: "none",
  labels: true,
  named: null,
  lit: [],
  sources: [],
  place: {x: 1},
  motion: null,
  where: {},
  random: true,
  solid: null,
};
const GUESS_WORDS = {
  text: "<p>Something is wrong with this brake. Press it, let it go, and look at stroke, arm, gaps and torque.</p>",
  question: "<p>What is wrong, and what would you look at next?</p>",
  answer: "<p>Was it yours, and what told it?</p>",
};

/** One lesson in one element. Made by `mountLesson`. */
class LessonPlayer {
  constructor(el, data) {
    this.ending = new AbortController();
    const {signal} = this.ending;
    Object.assign(this, {el, data, at: 0, shown: false, aside: null});
    this.document = el.ownerDocument;
    this.window = this.document.defaultView;
    const {three} = data.brakes[0].solid;
    this.brakes = data.brakes.map((brake) => ({...brake, solid: {...brake.solid, three}, wholePage: false, keysWide: data.keysWide ?? true}));
    el.classList.add("lesson-stage");
    this.slot = this.document.createElement("div");
    this.slot.className = "lesson-slot";
    el.replaceChildren(this.slot);
    this.box = new LessonBox(this.document, this, signal);
    this.pen = new Pen(this.document, signal);
    this.notes = new NotesWindow(this, signal);
    listenToLesson(data.keysWide === false ? el : this.document, this, signal);
    signal.addEventListener("abort", () => this.#leave());
    this.window.addEventListener("resize", () => this.box.fit(), {signal});
    this.#watchWidth(signal);
    this.document.addEventListener("fullscreenchange", () => this.player?.view.resized(), {signal});
    if (data.wholePage) this.window.addEventListener("hashchange", () => this.#readdressed(), {signal});
    this.#readdressed();
    this.document.fonts?.ready.then(() => signal.aborted || this.box.fit());
  }

  /** The words fit anew where the lesson gets another width, as when its text is put beside it. */
  #watchWidth(signal) {
    let width = this.el.clientWidth;
    const watcher = new ResizeObserver(() => {
      if (this.el.clientWidth === width) return;
      width = this.el.clientWidth;
      this.box.fit();
    });
    watcher.observe(this.el);
    signal.addEventListener("abort", () => watcher.disconnect());
  }

  /** Take everything back. */
  destroy() {
    this.ending.abort();
  }

  #leave() {
    clearTimeout(this.later);
    this.player?.destroy();
    this.el.classList.remove("lesson-stage");
    delete this.el.dataset.letters;
    this.slot.remove();
  }

  get steps() {
    return this.data.steps;
  }

  /** The step that is shown: of the lesson, or the fault to be found beside it. */
  get step() {
    return this.aside ?? this.steps[this.at];
  }

  /** The words of a step, in the units that are shown. */
  words(step = this.step) {
    return step.words[this.player?.units.system ?? this.data.brakes[0].facts.system];
  }

  /** Of a fault that was chosen here: its name, large, what it does and what shows, as the beginning of the answer. */
  named() {
    const fault = this.step.random ? this.player.modes.now?.fault : null;
    if (!fault) return "";
    const node = this.document.createElement("div");
    const lines = [["p", fault.title, "lesson-named"], ["p", `Inside: ${fault.inside}`, ""], ["p", `Outside: ${fault.outside}`, ""]];
    for (const [tag, words, kind] of lines) {
      const line = this.document.createElement(tag);
      line.textContent = words;
      line.className = kind;
      node.append(line);
    }
    return node.innerHTML;
  }

  get asks() {
    return Boolean(this.words().question);
  }

  /** What the next key does, for its button. */
  get following() {
    if (this.asks && !this.shown) return "Show the answer";
    if (this.aside) return "Back to the lesson";
    return this.at < this.steps.length - 1 ? "Next" : "End of the lesson";
  }

  /** The answer if it is still owed, else the next step. */
  next() {
    if (this.asks && !this.shown) this.answer();
    else if (this.aside) this.go(this.at);
    else if (this.at < this.steps.length - 1) this.go(this.at + 1);
  }

  /** Take the answer back, or go to the step before, as it was left. */
  back() {
    if (this.asks && this.shown) this.go(this.at, {aside: this.aside});
    else if (this.aside) this.go(this.at);
    else if (this.at > 0) this.go(this.at - 1, {shown: true});
  }

  /** Show the answer, name what was hidden, and let the brake move. */
  answer() {
    clearTimeout(this.later);
    this.shown = true;
    reveal(this.player, this.step);
    play(this.player, this.step);
    this.#tell();
  }

  /** Stand at a step: its beginning, or with `shown` its end. */
  go(index, {shown = false, aside = null} = {}) {
    clearTimeout(this.later);
    this.at = Math.min(Math.max(index, 0), this.steps.length - 1);
    this.aside = aside;
    this.shown = shown;
    this.#brake(this.step.brake ?? this.steps[this.at].brake);
    this.pen.clear();
    begin(this.player, this.step, this.shown);
    if (this.shown) play(this.player, this.step, true);
    else if (!this.asks) this.#later();
    this.#tell();
    this.box.fit();
  }

  /** Move, when the class has had a moment to look. */
  #later() {
    if (!this.step.motion) return;
    if (calm(this.player)) play(this.player, this.step);
    else this.later = setTimeout(() => play(this.player, this.step), LOOK);
  }

  /** Show the step's move once more, from where it begins. */
  again() {
    clearTimeout(this.later);
    begin(this.player, this.step, this.shown || !this.asks);
    play(this.player, this.step);
  }

  /** Some fault for the class to find; after the answer the lesson goes on where it was. */
  guess() {
    const {brake, settings} = this.steps[this.at];
    const words = {inch: GUESS_WORDS, metric: GUESS_WORDS};
    this.go(this.at, {aside: {...GUESS, brake, settings, words}});
  }

  /** Leave the pen, or the fault beside the lesson. */
  leave() {
    if (this.pen.on) this.draw(false);
    else if (this.aside) this.go(this.at);
  }

  /** Draw on the picture, or stop. */
  draw(on = !this.pen.on) {
    this.pen.use(on);
    this.box.pressed("draw", on);
  }

  labels() {
    this.player.labels();
    this.box.pressed("labels", this.player.root.dataset.names === "yes");
  }

  get letters() {
    return this.el.dataset.letters ?? "plain";
  }

  /** Large letters in picture and words, or plain ones: names and words for the last row, without the side figures. */
  large(on = this.letters !== "large") {
    this.el.dataset.letters = on ? "large" : "plain";
    this.box.pressed("large", on);
    this.player.view.resized();
    this.box.fit();
    this.#address();
  }

  units() {
    this.player.switchUnits();
    this.#tell();
    this.box.fit();
  }

  theme() {
    this.player.switchTheme();
    this.#address();
  }

  speak() {
    if (!this.notes.open()) this.box.say("The browser opened no second window: allow pop-ups for this page, then try again.");
  }

  fullScreen() {
    if (this.document.fullscreenElement) this.document.exitFullscreen();
    else this.el.requestFullscreen?.().catch(() => undefined);
  }

  help() {
    this.box.help();
  }

  /** Other steps of the same brakes, as an instructor writes them: stays at the step where it is. */
  rewrite(steps, title = this.data.title) {
    this.data = {...this.data, steps, title};
    this.go(this.at, {shown: this.shown && !this.aside});
  }

  /** How it is looked at: it may be handed to the lesson that comes after this one. */
  get looked() {
    return {at: this.at, shown: this.shown, page: this.player.looked};
  }

  look({at = 0, shown = false, page = null}) {
    if (page?.system) this.player.look(page);
    this.go(at, {shown});
  }

  /** Bring the brake of a step on the page; another one is looked at as the one before. */
  #brake(index) {
    if (this.brake === index) return;
    const looked = this.player?.looked;
    this.player?.destroy();
    this.slot.replaceChildren();
    this.brake = index;
    this.player = mount(this.slot, this.brakes[index]);
    const {root} = this.player;
    root.dataset.lesson = "yes";
    this.box.stand(root);
    this.pen.stand(root);
    if (looked) this.player.look({...looked, solid: ""});
  }

  #tell() {
    this.box.write();
    this.notes.write();
    this.#address();
    const {at, shown} = this;
    this.el.dispatchEvent(new CustomEvent("lessonstep", {bubbles: true, composed: true, detail: {at, shown}}));
  }

  /** Keep the step in the address of a page that is a lesson and nothing else, or with whom the lesson is part of. */
  #address() {
    const {kept, wholePage} = this.data;
    if (!(wholePage || kept) || this.aside) return;
    const parts = [`step=${this.at + 1}`];
    if (this.shown) parts.push("answer=1");
    const {theme} = this.player.root.dataset;
    if (theme !== "auto") parts.push(`c=${theme}`);
    if (this.letters === "large") parts.push("l=1");
    parts.push(`u=${this.player.units.system}`);
    this.seen = parts.join("&");
    kept?.changed(this.seen);
    if (wholePage) this.window.history.replaceState(null, "", `#${this.seen}`);
  }

  #readdressed() {
    const text = this.data.wholePage ? this.window.location.hash.slice(1) : (this.data.kept?.text ?? "");
    if (this.player && text === this.seen) return;
    const given = new URLSearchParams(text);
    const step = Number(given.get("step") ?? 1);
    const index = Number.isInteger(step) ? step - 1 : 0;
    this.#brake(this.steps[Math.min(Math.max(index, 0), this.steps.length - 1)].brake);
    const theme = given.get("c");
    if (["light", "dark"].includes(theme)) this.player.root.dataset.theme = theme;
    const system = given.get("u");
    if (["inch", "metric"].includes(system)) this.player.view.setUnits(system);
    this.el.dataset.letters = given.get("l") === "1" ? "large" : "plain";
    this.go(index, {shown: given.get("answer") === "1"});
  }
}

/** Put a lesson into an element. Returns it; its `destroy` takes it back. */
export function mountLesson(el, data) {
  return new LessonPlayer(el, data);
}
