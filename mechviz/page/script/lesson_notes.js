/**
 * Speaker notes in a second window: the notes, question and answer of this step, what comes next, and the time.
 *
 * The window is an empty one that this page writes into, so that it works from a file without a server.
 */

const SECOND = 1000;

/** The notes of one lesson. */
export class NotesWindow {
  constructor(lesson, signal) {
    Object.assign(this, {lesson, signal, window: null, since: null});
    signal.addEventListener("abort", () => this.close());
    lesson.window.addEventListener("pagehide", () => this.close(), {signal});
  }

  /** Whether it is there. */
  get there() {
    return this.window !== null && !this.window.closed;
  }

  /** Open it, or bring it to the front. Tells whether there is one. */
  open() {
    if (this.there) {
      this.window.focus();
      return true;
    }
    const made = this.lesson.window.open("", "", "popup,width=860,height=720");
    if (!made) return false;
    this.window = made;
    this.#build(made.document);
    this.since ??= Date.now();
    this.timer = setInterval(() => this.#tick(), SECOND);
    this.write();
    this.#tick();
    return true;
  }

  close() {
    clearInterval(this.timer);
    if (this.there) this.window.close();
    this.window = null;
  }

  #build(document) {
    const {lesson} = this;
    document.title = `Notes: ${lesson.data.title}`;
    document.documentElement.lang = "en";
    const style = document.createElement("style");
    style.textContent = lesson.data.css ?? [...lesson.document.querySelectorAll("style")].map((node) => node.textContent).join("\n");
    document.head.replaceChildren(style);
    document.body.innerHTML = `<main class="mechviz lesson-notes" data-theme="auto"><header><p class="lesson-clock"><span data-note="clock"></span> <span data-note="since"></span></p>
<p data-note="count"></p><h1 data-note="title"></h1></header><section data-note="notes" aria-label="Notes" aria-live="polite"></section>
<section data-note="asked" aria-label="Question and answer"></section><section class="lesson-coming" aria-label="Next step"><h2>Next</h2><p data-note="next"></p></section>
<div class="row"><button type="button" data-act="back">Back <kbd>←</kbd></button><button type="button" class="press" data-act="next"></button></div></main>`;
    this.find = (name) => document.querySelector(`[data-note=${name}]`);
    this.button = document.querySelector("[data-act=next]");
    this.button.addEventListener("click", () => lesson.next());
    document.querySelector("[data-act=back]").addEventListener("click", () => lesson.back());
    document.addEventListener("keydown", (event) => this.#heard(event));
  }

  #heard(event) {
    const {lesson} = this;
    const acts = {ArrowRight: "next", PageDown: "next", " ": "next", ArrowLeft: "back", PageUp: "back"};
    const act = acts[event.key];
    if (!act || (event.key === " " && event.target.localName === "button")) return;
    event.preventDefault();
    lesson[act]();
  }

  /** Write what belongs to the step that is shown. */
  write() {
    if (!this.there || !this.find) return;
    const {lesson} = this;
    const {step, steps, at} = lesson;
    const words = lesson.words();
    const following = lesson.aside ? steps[at] : steps[at + 1];
    this.window.document.querySelector("main").dataset.theme = lesson.player.root.dataset.theme;
    this.find("count").textContent = `Step ${at + 1} of ${steps.length}, ${lesson.data.title}`;
    this.find("title").textContent = step.title;
    this.find("notes").innerHTML = words.notes ?? "<p>No notes for this step.</p>";
    const hidden = step.random ? `<p>It is: ${this.#fault()}</p>` : "";
    this.find("asked").innerHTML = words.question ? `<h2>Question</h2>${words.question}<h2>Answer${lesson.shown ? ", shown" : ""}</h2>${words.answer}${hidden}` : "";
    this.find("next").textContent = following ? following.title : "The end of the lesson.";
    this.button.textContent = lesson.following;
  }

  #fault() {
    return this.lesson.player.modes.now?.fault?.title ?? "";
  }

  #tick() {
    if (!this.there) {
      this.close();
      return;
    }
    const minutes = Math.floor((Date.now() - this.since) / (60 * SECOND));
    this.find("clock").textContent = new Date().toLocaleTimeString([], {hour: "2-digit", minute: "2-digit"});
    this.find("since").textContent = `${minutes} of ${this.lesson.data.minutes} min`;
  }
}
