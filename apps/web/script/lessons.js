/** The instructor's bar: the list of lessons, what can be done with one, and its text while somebody writes. */

const HTML = `
<p class="said" role="status" aria-live="polite"></p>
<section class="shelf">
<div class="row"><h1>Lessons</h1>
<button type="button" data-act="brake">Show the brake by hand</button>
<button type="button" data-act="new">Write a lesson</button>
<button type="button" data-act="pick">Open a lesson file</button>
<input type="file" accept=".md,text/markdown,text/plain" hidden aria-label="Lesson file"></div>
<ul class="lessons"></ul>
<p class="folder"></p>
</section>
<section class="open" hidden>
<div class="row" role="toolbar" aria-label="Lesson">
<button type="button" data-act="list">All lessons</button>
<span class="of-lesson">
<button type="button" data-act="edit" aria-pressed="false">Write</button>
<a class="button" data-export="html" download>Save as one page</a>
<a class="button" data-export="pdf" download>Handout (PDF)</a>
<button type="button" data-act="film">Film</button>
<span class="film" hidden><progress max="1" aria-label="Film"></progress><span class="how-far"></span><button type="button" data-act="stop">Stop the film</button></span>
<a class="button filmed" download hidden>Save the film</a>
</span>
<span class="of-writing">
<button type="button" data-act="save" class="main">Save</button>
<button type="button" data-act="file">Save a copy to a file</button>
<button type="button" data-act="undo">Undo</button>
<button type="button" data-act="redo">Redo</button>
</span>
<span class="unsaved" hidden>not saved yet</span>
</div>
<div class="ask" data-ask="elsewhere" role="alert" hidden><p>The file has changed since you opened it.</p>
<button type="button" data-act="mine">Keep mine, save it over</button> <button type="button" data-act="theirs">Take theirs</button></div>
<div class="ask" data-ask="kept" role="alert" hidden><p></p>
<button type="button" data-kept="take">Go on with it</button> <button type="button" data-kept="drop">Throw it away</button></div>
<div class="writing" hidden>
<div class="faults" role="status" aria-live="polite"></div>
<label>The lesson, as its file has it <textarea spellcheck="true" rows="18" wrap="soft"></textarea></label>
</div>
</section>`;

/** Milliseconds without a key before what was written is played. */
const PAUSE = 350;
const FOLLOWED = ["listed", "chosen", "open", "own", "unsaved", "elsewhere", "text", "faults", "said", "exports", "film"];

export function render({model, el}) {
  const ending = new AbortController();
  const bar = new Bar(model, el, ending.signal);
  for (const name of FOLLOWED) model.on(name, () => bar.follow());
  model.on("remove", () => ending.abort());
  bar.follow();
}

/** The bar in its element. */
class Bar {
  constructor(model, el, signal) {
    Object.assign(this, {model, signal});
    this.box = document.createElement("div");
    this.box.innerHTML = HTML;
    el.append(this.box);
    this.editor = this.box.querySelector("textarea");
    this.picker = this.box.querySelector("input[type=file]");
    this.box.addEventListener("click", (event) => this.#clicked(event), {signal});
    this.editor.addEventListener("input", () => this.#later(), {signal});
    this.picker.addEventListener("change", () => this.#opened(), {signal});
    window.addEventListener("beforeunload", (event) => this.model.unsaved && !this.back && event.preventDefault(), {signal});
    window.addEventListener("serverback", () => (this.back = true), {signal});
    document.addEventListener("keydown", (event) => this.#key(event), {signal, capture: true});
    document.addEventListener("drop", (event) => this.#dropped(event), {signal, capture: true});
  }

  #find(selector) {
    return this.box.querySelector(selector);
  }

  #clicked(event) {
    const pressed = event.target.closest("button");
    if (!pressed) return;
    const {act, lesson, kept} = pressed.dataset;
    this.#say("");
    if (kept) this.#kept(kept);
    else if (lesson) this.model.send_msg({choose: lesson});
    else if (act === "pick") this.picker.click();
    else if (act === "file") this.#saveFile();
    else if (act) this.#ask(act);
  }

  /** While somebody writes, the key that saves is the lesson's, not the setup's above. */
  #key(event) {
    const saves = (event.ctrlKey || event.metaKey) && !event.altKey && event.key.toLowerCase() === "s";
    if (!saves || this.model.open !== "writing") return;
    event.preventDefault();
    this.#ask("save");
  }

  /** What was written last goes first, so that nothing of it is missing in what is saved. */
  #ask(act) {
    if (act === "list" && (this.model.unsaved || this.long)) {
      if (!confirm("What you wrote is not saved. Leave it?")) return;
      this.#forget();
    } else if (!this.#send()) return;
    this.model.send_msg({act});
  }

  #later() {
    clearTimeout(this.waiting);
    this.#keep();
    this.#measure();
    this.waiting = setTimeout(() => this.#send(), PAUSE);
  }

  /** Send what stands in the editor, and say whether it could be: a text too long for a lesson stays here. */
  #send() {
    clearTimeout(this.waiting);
    if (this.model.open !== "writing") return true;
    this.#measure();
    if (!this.long && this.editor.value !== this.model.text) this.model.send_msg({write: this.editor.value});
    return !this.long;
  }

  /** Tell a text that is longer than a lesson may be. */
  #measure() {
    const {value} = this.editor, most = this.model.most_bytes;
    const bytes = 3 * value.length > most ? new Blob([value]).size : 0;
    const was = this.long;
    this.long = bytes > most ? `The text has ${grouped(bytes)} bytes; a lesson may have ${grouped(most)}. Nothing of it is played or saved before it is shorter.` : "";
    if (was !== this.long) this.#faults();
  }

  // ---- what is kept in the browser until it lies on the shelf

  get #place() {
    return `mechviz-lesson-${this.model.chosen || "_new"}`;
  }

  #keep() {
    try {
      localStorage.setItem(this.#place, this.editor.value);
    } catch {
      // a browser that keeps nothing, or a text too long for it: what is written still goes to the server
    }
  }

  #forget() {
    this.offered = null;
    try {
      localStorage.removeItem(this.#place);
    } catch {
      // as above
    }
  }

  /** Offer what an earlier visit wrote here and never saved; let go of what has been saved. */
  #recall() {
    const {model} = this;
    const place = model.open === "writing" || model.open === "lesson" ? this.#place : "";
    if (place !== this.place) {
      if (this.place && !model.unsaved && recalled(this.place) === model.text) localStorage.removeItem(this.place);
      this.place = place;
      const kept = place ? recalled(place) : null;
      this.offered = kept === null || kept === model.text ? null : kept;
    }
    if (place && !model.unsaved && this.offered === null && this.editor.value === model.text) this.#forget();
    const ask = this.#find("[data-ask=kept]");
    ask.hidden = this.offered === null;
    if (this.offered !== null) ask.querySelector("p").textContent = `This browser has kept what you wrote here and did not save (${grouped(this.offered.length)} letters).`;
  }

  #kept(act) {
    const text = this.offered;
    this.offered = null;
    if (act === "drop" || text === null) this.#forget();
    else {
      if (this.model.open !== "writing") this.model.send_msg({act: "edit"});
      this.editor.value = text;
      this.#measure();
      if (!this.long) this.model.send_msg({write: text});
    }
    this.#find("[data-ask=kept]").hidden = true;
  }

  /** A lesson's file that is dropped anywhere; other files are the bar's above. */
  #dropped(event) {
    const [file] = event.dataTransfer?.files ?? [];
    if (!file || !/\.(md|markdown)$/i.test(file.name)) return;
    event.preventDefault();
    event.stopPropagation();
    if (this.model.unsaved && !confirm("What you wrote is not saved. Leave it?")) return;
    this.#open(file);
  }

  #opened() {
    const [file] = this.picker.files;
    this.picker.value = "";
    if (file) this.#open(file);
  }

  async #open(file) {
    if (file.size > this.model.most_bytes) {
      this.#say(`${file.name} has more than ${grouped(this.model.most_bytes)} bytes. Make several lessons of it.`);
      return;
    }
    try {
      const text = new TextDecoder("utf-8", {fatal: true}).decode(await file.arrayBuffer());
      this.model.send_msg({open: text, name: file.name});
    } catch {
      this.#say(`${file.name} is not UTF-8 text. Save it as UTF-8, or choose a lesson file (.md).`);
    }
  }

  #saveFile() {
    const address = URL.createObjectURL(new Blob([this.editor.value], {type: "text/markdown"}));
    Object.assign(document.createElement("a"), {href: address, download: this.model.name_of_file}).click();
    setTimeout(() => URL.revokeObjectURL(address), 1000);
  }

  #say(words) {
    this.own = words;
    this.#tell();
  }

  /** What was said here, else by the server, at the top where it is seen. */
  #tell() {
    const {film, said} = this.model;
    const server = film.state === "failed" ? `The film could not be made: ${film.said}` : said || (film.state === "" && film.said) || "";
    this.#find(".said").textContent = this.own || server;
  }

  /** Show what the server says. */
  follow() {
    const {model} = this;
    this.#find(".shelf").hidden = model.open !== "";
    this.#find(".open").hidden = model.open === "";
    this.#find(".of-lesson").hidden = model.open === "brake";
    const writing = model.open === "writing";
    for (const part of [".writing", ".of-writing"]) this.#find(part).hidden = !writing;
    this.#find(".unsaved").hidden = !model.unsaved;
    const write = this.#find("[data-act=edit]");
    write.setAttribute("aria-pressed", String(writing));
    write.textContent = writing ? "Close the text" : model.own ? "Write" : "Write your own from this";
    write.hidden = !model.chosen;
    this.#find("[data-act=save]").textContent = model.own ? "Save" : "Save as my lesson";
    this.#find("[data-ask=elsewhere]").hidden = !model.elsewhere;
    if (!writing || (!this.long && document.activeElement?.shadowRoot?.activeElement !== this.editor)) this.editor.value = model.text;
    if (!writing) this.long = "";
    this.#recall();
    this.#list();
    this.#faults();
    this.#hand();
    this.#film();
    this.#tell();
    document.querySelector("main").classList.toggle("writes", writing);
  }

  #list() {
    const {listed, folder} = this.model;
    if (listed === this.shelved) return;
    this.shelved = listed;
    this.#find(".lessons").replaceChildren(...listed.map(entry));
    this.#find(".folder").textContent = `Lessons of your own lie in ${folder}; one that another program saves there is played anew at once.`;
  }

  #faults() {
    const faults = this.long ? [this.long] : this.model.faults;
    const lines = faults.map((line) => Object.assign(document.createElement("li"), {textContent: line}));
    const list = document.createElement("ul");
    list.append(...lines);
    const head = document.createElement("p");
    head.textContent = faults.length ? "Not played as it stands; what was played before stays:" : "Nothing is wrong with it: it is played as it stands.";
    this.#find(".faults").replaceChildren(head, ...(faults.length ? [list] : []));
  }

  #film() {
    const {state, share, left, address} = this.model.film;
    const running = state === "running";
    this.#find(".film").hidden = !running;
    this.#find("[data-act=film]").hidden = running || !this.model.exports.html;
    this.#find("progress").value = share ?? 0;
    this.#find(".how-far").textContent = `${Math.floor(100 * (share ?? 0))} %${lasts(left)}`;
    const link = this.#find(".filmed");
    link.hidden = state !== "done";
    if (state === "done") link.href = new URL(address, document.baseURI).href;
  }

  #hand() {
    for (const link of this.box.querySelectorAll("[data-export]")) {
      const address = this.model.exports[link.dataset.export];
      link.hidden = !address;
      if (address) link.href = new URL(address, document.baseURI).href;
    }
  }
}

const grouped = (number) => number.toLocaleString("en");

function lasts(seconds) {
  if (seconds === null || seconds === undefined) return "";
  return seconds < 60 ? ", less than a minute left" : `, about ${Math.ceil(seconds / 60)} minutes left`;
}

function recalled(place) {
  try {
    return localStorage.getItem(place);
  } catch {
    return null;
  }
}

/** A lesson in the list. */
function entry({name, title, about, minutes, steps, own, fault}) {
  const item = document.createElement("li");
  const button = Object.assign(document.createElement("button"), {type: "button"});
  button.dataset.lesson = name;
  const heading = Object.assign(document.createElement("strong"), {textContent: title});
  const words = Object.assign(document.createElement("span"), {textContent: fault ?? about});
  const length = Object.assign(document.createElement("small"), {textContent: fault ? "yours, with a fault" : `${own ? "yours, " : ""}${steps} steps, ${minutes} minutes`});
  button.append(heading, words, length);
  item.append(button);
  return item;
}
