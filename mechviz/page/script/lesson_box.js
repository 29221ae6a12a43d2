/** What stands beside the picture in a lesson: the step's words, its question and answer, and the buttons. */

import {LESSON_KEYS} from "./lesson_keys.js";

const BUTTONS = [
  ["back", "Back", "←"],
  ["next", "Next", "→"],
];
const MORE = [
  ["again", "Again", "M"],
  ["labels", "Names", "B"],
  ["draw", "Draw", "X"],
  ["wipe", "Wipe", "Del"],
  ["guess", "Fault quiz", "Q"],
  ["speak", "Notes", "S"],
  ["large", "Large", "L"],
  ["fullScreen", "Full screen", "F"],
  ["help", "Keys", "?"],
];
/** How much larger and smaller than planned letters may be, and the smallest (pixels). */
const GROW = 1.3;
const SHRINK = 0.8;
const LEAST = 16;
/** How much smaller than planned letters that are to be large may be. */
const SHRINK_LARGE = 0.64;

const PRESSED = {draw: false, labels: true, large: false};
const TRIANGLE = '<svg viewBox="0 0 20 18" aria-hidden="true"><path d="M10 1.5 18.8 17H1.2z"/><path d="M10 6.5v5.4M10 13.4v1.4"/></svg>';

function button([name, words, key]) {
  const state = name in PRESSED ? ` aria-pressed="${PRESSED[name]}"` : "";
  return `<button type="button" data-act="${name}"${state}${name === "next" ? ' class="press"' : ""}><span>${words}</span> <kbd>${key}</kbd></button>`;
}

/** The words and buttons of one lesson. */
export class LessonBox {
  constructor(document, lesson, signal) {
    this.lesson = lesson;
    this.box = document.createElement("section");
    this.box.className = "lesson";
    this.box.setAttribute("aria-label", "Lesson");
    this.box.innerHTML = `<div class="lesson-words"><div aria-live="polite"><p class="lesson-count" data-part="count"></p><h2 data-part="title"></h2>
<div data-part="text"></div><ul class="lesson-lit" data-part="lit" aria-label="Parts that are lit"></ul>
<div class="note lesson-caution" data-part="caution"></div>
<div class="lesson-question" data-part="question"></div><div class="lesson-answer" data-part="answer"></div>
<p class="lesson-sources" data-part="sources"></p></div></div>
<p class="lesson-said" role="status" data-part="said"></p>
<div class="row lesson-bar">${BUTTONS.map(button).join("")}</div>`;
    this.more = document.createElement("div");
    this.more.className = "lesson-more";
    this.more.setAttribute("role", "group");
    this.more.setAttribute("aria-label", "What an instructor needs beside the steps");
    this.more.innerHTML = MORE.map(button).join("");
    this.sheet = document.createElement("dialog");
    this.sheet.setAttribute("aria-label", "Keys");
    this.sheet.innerHTML = `<h2>Keys</h2><dl class="keys">${LESSON_KEYS.map(([key, does]) => `<div><dt><kbd>${key}</kbd></dt><dd>${does}</dd></div>`).join("")}</dl><button type="button">Close</button>`;
    this.sheet.querySelector("button").addEventListener("click", () => this.sheet.close(), {signal});
    for (const part of [this.box, this.more]) part.addEventListener("click", (event) => this.#clicked(event), {signal});
  }

  /** Stand on the page of a brake. */
  stand(root) {
    root.querySelector("main").append(this.box, this.more);
    root.append(this.sheet);
  }

  #clicked(event) {
    const node = event.target.closest("[data-act]");
    if (!node) return;
    const {act} = node.dataset;
    if (act === "wipe") this.lesson.pen.clear();
    else this.lesson[act]();
    if (event.detail > 0) node.blur();
  }

  get helping() {
    return this.sheet.open;
  }

  help() {
    this.sheet.showModal();
  }

  #part(name) {
    return this.box.querySelector(`[data-part=${name}]`);
  }

  /** Tell a button's state. */
  pressed(name, on) {
    this.more.querySelector(`[data-act=${name}]`).setAttribute("aria-pressed", String(on));
  }

  /** Say something that is no part of the lesson. */
  say(words) {
    this.#part("said").textContent = words;
  }

  /** Write the step that is shown. */
  write() {
    const {lesson} = this;
    const {step, shown, steps, at, data} = lesson;
    const words = lesson.words();
    const lit = step.lit.map(({words: name, verb}) => `<li class="of-${verb}">${name}</li>`).join("");
    const hides = Boolean(words.question) && !shown && !step.labels;
    this.#part("count").textContent = lesson.aside ? `Beside step ${at + 1}` : `Step ${at + 1} of ${steps.length}: ${data.title}`;
    this.#part("title").textContent = step.title;
    this.#html("text", words.text);
    this.#html("lit", hides ? "" : lit);
    this.#html("caution", (shown || !step.cautionLate) && words.caution && `<h3>${TRIANGLE} Caution</h3>${words.caution}`);
    this.#html("question", words.question && `<h3>Question</h3>${words.question}`);
    this.#html("answer", shown && words.answer ? `<h3>Answer</h3>${lesson.named()}${words.answer}` : "");
    this.#html("sources", step.sources.length ? "x" : "");
    this.#part("sources").textContent = step.sources.length ? `Source: ${step.sources.join("; ")}` : "";
    this.box.querySelector("[data-act=next] span").textContent = lesson.following;
    const last = at === steps.length - 1 && !lesson.aside && (shown || !words.question);
    this.box.querySelector("[data-act=next]").disabled = last;
    this.box.querySelector("[data-act=back]").disabled = at === 0 && !lesson.aside && !shown;
    this.pressed("labels", lesson.player.root.dataset.names === "yes");
    this.pressed("large", lesson.letters === "large");
    this.say("");
    if (shown) this.#part("answer").scrollIntoView?.({block: "nearest"});
  }

  #html(name, html) {
    const node = this.#part(name);
    node.innerHTML = html ?? "";
    node.hidden = !html;
  }

  /** Letters as large as the step's words have room for, its answer included, so that nothing grows when it comes; where
   * even the smallest have none, the plot below gives way.
   */
  fit() {
    const {box} = this;
    const words = box.querySelector(".lesson-words");
    box.style.removeProperty("--lesson-letter");
    const {dataset} = this.lesson.player.root;
    dataset.tight = "no";
    if (getComputedStyle(words).overflowY === "visible") return;
    const answer = this.#part("answer");
    const {innerHTML, hidden} = answer;
    const full = this.lesson.words().answer;
    if (full) {
      const {cautionLate} = this.lesson.step;
      const caution = cautionLate ? `<h3>Caution</h3>${this.lesson.words().caution}` : "";
      answer.innerHTML = `<h3>Answer</h3>${this.lesson.named()}${full}${this.lesson.shown ? "" : caution}`;
      answer.hidden = false;
    }
    if (!this.#fitted(words)) {
      dataset.tight = "yes";
      this.#fitted(words);
    }
    answer.innerHTML = innerHTML;
    answer.hidden = hidden;
  }

  /** Take the largest letters with which the words have room, and say whether they have. */
  #fitted(words) {
    const {box} = this;
    box.style.removeProperty("--lesson-letter");
    const plain = parseFloat(getComputedStyle(box).fontSize) || 20;
    const least = Math.max(LEAST, (this.lesson.letters === "large" ? SHRINK_LARGE : SHRINK) * plain);
    for (let now = Math.floor(GROW * plain); now >= least; now -= 1) {
      box.style.setProperty("--lesson-letter", `${now}px`);
      if (words.scrollHeight <= words.clientHeight + 1) return true;
    }
    return false;
  }
}
