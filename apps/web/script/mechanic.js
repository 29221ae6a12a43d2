/** The mechanic's desk: fields that keep what is typed, verdicts that follow, both wheels, before and after. */

const LAYOUT = `
<div class="mechanic" data-side="left" data-phase="before" data-units="inch">
<p class="lost note" role="alert" hidden></p>
<div class="form"></div>
<aside class="result" aria-label="What follows from the readings">
<nav class="wheels" aria-label="Wheel">
<button type="button" data-side="left"></button><button type="button" data-side="right"></button>
<button type="button" data-act="verdict">Verdict</button></nav>
<p class="general note" hidden></p>
<div class="axle note" hidden></div>
<div class="wheel" data-wheel="left"></div><div class="wheel" data-wheel="right"></div>
<div class="both"></div>
<section class="sheet" aria-label="Job sheet"><h2>Job sheet</h2>
<label>Note for the sheet<textarea data-about="note" rows="3"></textarea></label>
<label>Paper<select data-paper><option value="letter">Letter</option><option value="a4">A4</option></select></label>
<button type="button" class="main" data-act="print">Print the job sheet</button></section>
<div class="kept"></div>
</aside>
<p class="unseen" role="status" aria-live="polite"></p></div>`;

const WHEEL = `<div data-part="now"></div>
<figure data-part="drawing" hidden></figure>
<details data-part="causes" open hidden><summary>Likely causes</summary><div></div></details>
<details data-part="fit" hidden><summary>Fit a new adjuster</summary><div></div></details>
<p class="working" hidden>Working out causes, fit and drawing …</p>`;

const PAUSE = 110, THINK = 700, LOST = 4000, KNOCK = 1500, OTHER = 4000;
const EIGHTHS = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
const THIRTYSECONDS = Array.from({length: 16}, (_, n) => `${2 * n + 1}/32`);
const SIXTEENTHS = ["1/16", "3/16", "5/16", "7/16", "9/16", "11/16", "13/16", "15/16"];

export function render({model, el}) {
  const ending = new AbortController();
  const desk = new Desk(model, el, ending.signal);
  model.on("view", () => desk.show());
  model.on("taken", () => desk.acknowledged());
  model.on("thoughts", () => desk.think());
  model.on("thought_of", () => desk.thought());
  model.on("unsaved", () => desk.tellUnsaved());
  model.on("remove", () => ending.abort());
  desk.begin();
}

/** What was typed and is not known to be kept by the server yet: in the browser, under the job's name. */
class Pending {
  constructor(name) {
    this.place = `mechviz-typed-${name}`;
    this.texts = new Map(Object.entries(recalled(this.place)));
  }

  set(name, text) {
    this.texts.set(name, text);
    this.#write();
  }

  /** Forget a text that the server has, unless another one was typed since. */
  done(name, text) {
    if (this.texts.get(name) === text) this.texts.delete(name);
    this.#write();
  }

  #write() {
    try {
      if (this.texts.size) localStorage.setItem(this.place, JSON.stringify(Object.fromEntries(this.texts)));
      else localStorage.removeItem(this.place);
    } catch {
      // a browser that keeps nothing: what is typed still goes to the server
    }
  }
}

function recalled(place) {
  try {
    return JSON.parse(localStorage.getItem(place) ?? "{}") ?? {};
  } catch {
    return {};
  }
}

class Desk {
  constructor(model, el, signal) {
    Object.assign(this, {model, signal, sent: new Map(), number: 0, heard: Date.now(), words: {}});
    const holder = document.createElement("div");
    holder.innerHTML = LAYOUT;
    this.box = holder.firstElementChild;
    el.append(this.box);
    this.#one(".form").innerHTML = model.form;
    this.#one(".kept").innerHTML = model.kept;
    for (const wheel of this.#all(".wheel")) wheel.innerHTML = WHEEL;
    this.pending = new Pending(model.name_kept);
  }

  #one(selector) {
    return this.box.querySelector(selector);
  }

  #all(selector) {
    return this.box.querySelectorAll(selector);
  }

  begin() {
    this.#name();
    this.#wire();
    this.#pictures();
    this.show();
    this.tellUnsaved();
    for (const [name, text] of this.pending.texts) {
      const input = this.#named(name);
      if (input) input.value = text;
    }
    if (this.pending.texts.size) this.#later();
    this.#thinkLater();
  }

  /** Put the job's name into the address at once: a reload may come before the server has. */
  #name() {
    const here = new URL(location.href);
    if (here.searchParams.get("_job") === this.model.name_kept) return;
    here.searchParams.set("_job", this.model.name_kept);
    history.replaceState(history.state, "", here);
  }

  #wire() {
    const {box, signal} = this;
    box.addEventListener("input", (event) => this.#typed(event.target), {signal});
    box.addEventListener("change", (event) => this.#chosen(event.target), {signal});
    box.addEventListener("click", (event) => this.#clicked(event.target.closest("button")), {signal});
    box.addEventListener("focusin", (event) => this.#focused(event.target), {signal});
    box.addEventListener("keydown", (event) => this.#key(event), {signal});
    addEventListener("pagehide", () => this.#flush(), {signal});
    document.addEventListener("visibilitychange", () => this.#flush(), {signal});
    addEventListener("focus", () => this.#look(), {signal});
    const themes = new MutationObserver(() => this.#pictures());
    themes.observe(document.documentElement, {attributes: true, attributeFilter: ["data-theme"]});
    signal.addEventListener("abort", () => themes.disconnect());
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.#pictures(), {signal});
    const watch = setInterval(() => this.#listen(), 1000), other = setInterval(() => this.#look(), OTHER);
    signal.addEventListener("abort", () => clearInterval(other));
    signal.addEventListener("abort", () => clearInterval(watch));
  }

  /** Take over what another window has written, while nothing is typed here. */
  #look() {
    if (!document.hidden && !this.lost && !this.pending.texts.size && !this.sent.size) this.model.send_msg({look: true});
  }

  // ---- from the hand to the server

  #typed(input) {
    const name = nameOf(input);
    if (!name) return;
    this.pending.set(name, input.value);
    this.#unit(input);
    this.#age();
    this.#later();
  }

  #chosen(input) {
    if (input.name === "units") this.#tell({units: input.value});
    else if (input.name === "phase") this.#tell({phase: input.value});
    else if (input.matches("[data-base]")) this.#tell({base: input.value});
    else if (input.matches("[data-show-held]")) this.box.classList.toggle("show-held", input.checked);
    else this.#flush();
  }

  #later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.#flush(), PAUSE);
  }

  #flush() {
    clearTimeout(this.timer);
    const waiting = new Set([...this.sent.values()].map((one) => `${one.name}\n${one.text}`));
    for (const [name, text] of this.pending.texts) {
      if (waiting.has(`${name}\n${text}`)) continue;
      const [first, ...rest] = name.split("|");
      this.#tell(first === "about" ? {about: rest[0], text} : {type: [first, ...rest], text}, {name, text});
    }
  }

  #tell(message, typed) {
    this.number += 1;
    this.sent.set(this.number, {name: "", ...typed, at: Date.now()});
    this.model.send_msg({...message, n: this.number});
    this.#thinkLater();
  }

  acknowledged() {
    for (const [number, one] of [...this.sent]) {
      if (number > this.model.taken) continue;
      this.sent.delete(number);
      if (one.name) this.pending.done(one.name, one.text);
    }
    this.#age();
    this.heard = Date.now();
  }

  /** Notice that the server does not answer, keep what is typed, and come back when it does. */
  async #listen() {
    const oldest = Math.min(...[...this.sent.values()].map((one) => one.at));
    if (this.lost || Date.now() - oldest < LOST) return;
    this.lost = true;
    const words = this.#one(".lost");
    words.textContent = "The server does not answer. What you type is kept in this browser; the desk goes on by itself when the server is back.";
    words.hidden = false;
    while (!this.signal.aborted) {
      await new Promise((done) => setTimeout(done, KNOCK));
      const answer = await fetch(location.href, {cache: "no-store"}).catch(() => null);
      if (answer?.ok) location.reload();
    }
  }

  /** What was worked out from other readings than stand here now is taken away, at once; a verdict is marked. */
  #age() {
    const behind = this.pending.texts.size > 0;
    this.box.classList.toggle("behind", behind);
    for (const part of this.#all("[data-part]:not([data-part=now])"))
      part.hidden = behind || part.dataset.of !== this.model.view.of || !part.dataset.full;
    if (behind) for (const line of this.#all(".working")) line.hidden = false;
  }

  #thinkLater() {
    clearTimeout(this.thinker);
    this.asked = (this.asked ?? this.model.thought_of) + 1;
    this.thinker = setTimeout(() => this.model.send_msg({think: this.asked}), THINK);
    for (const line of this.#all(".working")) line.hidden = false;
  }

  // ---- from the server to the eye

  show() {
    const {view} = this.model;
    if (this.of !== undefined && this.of !== view.of) this.#thinkLater();
    this.of = view.of;
    this.#age();
    this.box.dataset.phase = view.phase;
    this.box.dataset.units = view.units;
    for (const input of this.#all("[data-entry], [data-about]")) this.#fill(input, view);
    for (const line of this.#all("[data-wrong]")) say(line, view.wrong[line.dataset.wrong]);
    for (const line of this.#all("[data-meant]")) say(line, view.meant[line.dataset.meant]);
    for (const line of this.#all("[data-was]")) this.#was(line, view);
    for (const unit of this.#all("[data-unit]")) unit.textContent = this.model.units[unit.dataset.unit]?.[view.units] ?? "";
    for (const input of this.#all("[data-entry]")) this.#unit(input);
    say(this.#one(".about summary"), view.title === "Brake job" ? "What this job is: vehicle, axle, mechanic" : view.title);
    check(this.box, "units", view.units);
    check(this.box, "phase", view.phase);
    this.#one("[data-base]").value = view.base;
    if (!this.paper) this.#one("[data-paper]").value = view.units === "metric" ? "a4" : "letter";
    this.#verdicts(view);
    if (this.base !== view.base) this.#pictures();
    const {wanted} = this;
    this.wanted = null;
    if (wanted) this.#go(...wanted);
  }

  #fill(input, view) {
    const name = nameOf(input), {entry, about} = input.dataset;
    const text = (entry ? view.values[entry] : view.about[about]) ?? "";
    const held = this.pending.texts.has(name) || (input === this.box.getRootNode().activeElement && !this.undone);
    if (!held && input.value !== text) input.value = text;
    if (!entry) return;
    const wrong = Boolean(view.wrong[entry]);
    input.setAttribute("aria-invalid", String(wrong));
    const before = view.values[entry.replace("|after|", "|before|")];
    const held_over = entry.includes("|after|") && input.closest(".holds") && before;
    const like = input.dataset[view.units];
    input.placeholder = held_over ? `as before: ${before}` : like ? `like ${like}` : "";
  }

  /** Beside a reading after the adjustment, what it was before. */
  #was(line, view) {
    const before = view.values[line.dataset.was.replace("|after|", "|before|")];
    say(line, line.dataset.was.includes("|after|") && before ? `before: ${before}` : "");
  }

  #unit(input) {
    const unit = input.parentElement.querySelector("[data-unit]");
    if (unit) unit.hidden = /[a-z"\u2033]/i.test(input.value) || !unit.textContent;
  }

  #verdicts(view) {
    for (const side of ["left", "right"]) {
      const wheel = this.#one(`[data-wheel=${side}]`);
      put(wheel.querySelector("[data-part=now]"), view.wheels[side]);
      const button = this.#one(`.wheels [data-side=${side}]`);
      const {mark, word} = view.words[side];
      put(button, `<b>${side === "left" ? "Left" : "Right"}</b> ${mark}<span></span>`);
      button.lastElementChild.textContent = word;
    }
    put(this.#one(".both"), view.both);
    put(this.#one(".axle"), view.axle);
    this.#one(".axle").hidden = !view.axle;
    say(this.#one(".general"), view.general.join(" "));
    this.#one(".general").hidden = !view.general.length;
    this.#side(this.box.dataset.side);
    const heard = Object.entries(view.words).filter(([side, now]) => this.words[side] && this.words[side] !== now.word);
    if (heard.length) this.#one("[role=status]").textContent = heard.map(([side, now]) => `${side} wheel: ${now.word}`).join(", ");
    this.words = Object.fromEntries(Object.entries(view.words).map(([side, now]) => [side, now.word]));
  }

  think() {
    const {of, ...wheels} = this.model.thoughts;
    for (const [side, parts] of Object.entries(wheels)) {
      const wheel = this.#one(`[data-wheel=${side}]`);
      for (const [name, html] of Object.entries(parts)) {
        const part = wheel.querySelector(`[data-part=${name}]`);
        put(part.matches("details") ? part.querySelector("div") : part, html);
        part.dataset.of = of;
        part.dataset.full = html ? "yes" : "";
      }
    }
    this.#age();
  }

  thought() {
    const {thoughts, view, thought_of: of} = this.model;
    if (of >= this.asked && !this.pending.texts.size && thoughts.of !== view.of) this.#thinkLater();
    for (const line of this.#all(".working")) line.hidden = this.model.thought_of >= this.asked;
  }

  tellUnsaved() {
    if (this.lost) return;
    const words = this.#one(".lost"), {unsaved} = this.model;
    words.textContent = unsaved ? `This job is not kept: ${unsaved}` : "";
    words.hidden = !unsaved;
  }

  #pictures() {
    const root = document.documentElement.dataset.theme;
    const dark = root ? root === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
    this.base = this.model.view.base;
    this.box.dataset.theme = dark ? "dark" : "light";
    for (const image of this.#all("[data-picture]"))
      image.src = new URL(`tape/${dark ? "dark" : "light"}/${image.dataset.picture}.svg?base=${this.base}`, document.baseURI).href;
  }

  // ---- buttons and keys

  #clicked(button) {
    if (!button) return;
    const {go, side, act, put: text} = button.dataset;
    if (go) this.#go(go, side);
    else if (text) this.#write(button, text);
    else if (act === "print") this.#print();
    else if (act === "verdict") this.#verdict(button);
    else if (side) this.#side(side);
  }

  /** To the verdict, and from there back to the field that was written in. */
  #verdict(button) {
    const back = button.dataset.back === "yes";
    if (back) this.last?.closest(".field")?.scrollIntoView({block: "center"});
    else this.#one(`[data-wheel=${this.box.dataset.side}]`).scrollIntoView({block: "start"});
    button.dataset.back = back || !this.last ? "" : "yes";
    button.textContent = button.dataset.back ? "Back" : "Verdict";
  }

  #side(side) {
    this.box.dataset.side = side;
    for (const button of this.#all(".wheels [data-side]")) button.setAttribute("aria-pressed", String(button.dataset.side === side));
  }

  /** Go to a field: its wheel comes to the front, what is folded opens. A reading that is wrong may be one of before. */
  #go(key, side) {
    this.#side(side);
    const {phase} = this.box.dataset, {wrong} = this.model.view;
    const names = [phase, "before"].flatMap((when) => [side, "axle"].map((place) => `${place}|${when}|${key}`));
    const name = names.find((one) => wrong[one]) ?? names.find((one) => this.#named(one));
    const input = name && this.#named(name);
    if (!input) return;
    const [, when] = name.split("|");
    if (when !== phase) {
      this.wanted = [key, side];
      this.#tell({phase: when});
      return;
    }
    for (let box = input.closest("details"); box; box = box.parentElement.closest("details")) box.open = true;
    if (phase === "after" && input.closest(".holds")) {
      this.#one("[data-show-held]").checked = true;
      this.box.classList.add("show-held");
    }
    input.closest(".field").scrollIntoView({block: "center"});
    input.focus({preventScroll: true});
  }

  #named(name) {
    return [...this.#all("[data-entry], [data-about]")].find((input) => nameOf(input) === name);
  }

  /** The wheel on which the hand is comes to the front. */
  #focused(input) {
    const side = input.dataset?.entry?.split("|")[0];
    if (side) {
      this.last = input;
      const button = this.#one(".wheels [data-act=verdict]");
      button.dataset.back = "";
      button.textContent = "Verdict";
    }
    if (side === "left" || side === "right") this.#side(side);
    this.#pad(input);
  }

  /** Under the field that has the focus: fractions for gloves, or how a drum feels. */
  #pad(input) {
    const place = input.closest?.(".one");
    if (this.padded === place) return;
    this.#one(".pad")?.remove();
    this.padded = place;
    const rows = this.#keys(input);
    if (!place || !rows.length) return;
    const pad = document.createElement("div");
    pad.className = "pad";
    pad.innerHTML = rows.map((row) => `<div>${row.map((text) => `<button type="button" tabindex="-1" data-put="${escaped(text)}">${escaped(text)}</button>`).join("")}</div>`).join("");
    pad.addEventListener("pointerdown", (event) => event.preventDefault());
    place.append(pad);
  }

  /** What the pad has: how a drum feels, the pressure of before, fractions as finely as the tape is said to be read. */
  #keys(input) {
    const {kind, entry} = input.dataset ?? {}, before = this.model.view.values[entry?.replace("|after|", "|before|")];
    if (kind === "temperature") return [["cold", "hot"]];
    if (kind === "pressure" && entry.includes("|after|") && before) return [[before]];
    if (kind !== "length" || this.box.dataset.units !== "inch") return [];
    const finest = this.#named("axle|before|measured.resolution")?.value;
    return finest === "1/32 in" ? [EIGHTHS, SIXTEENTHS, THIRTYSECONDS] : [EIGHTHS, SIXTEENTHS];
  }

  #write(button, text) {
    const input = button.closest(".one").querySelector("input");
    const whole = /^\s*(\d+)(?![\d.]*\/)/.exec(input.value)?.[1];
    input.value = text.includes("/") && whole ? `${whole} ${text}` : text;
    this.#typed(input);
    input.focus();
  }

  #key(event) {
    if (event.key !== "Enter" || !event.target.matches("input[data-entry], select[data-entry]")) return;
    event.preventDefault();
    const fields = [...this.#all("input[data-entry], select[data-entry]")].filter((one) => one.offsetParent);
    const side = event.target.dataset.entry.split("|")[0];
    const rest = fields.slice(fields.indexOf(event.target) + 1);
    (rest.find((one) => one.dataset.entry.startsWith(`${side}|`)) ?? rest[0])?.focus();
  }

  /** Open the sheet when the server has everything that was typed. */
  async #print() {
    this.#flush();
    this.#tell({keep: true});
    for (let n = 0; n < 60 && this.sent.size; n += 1) await new Promise((done) => setTimeout(done, 50));
    const paper = this.#one("[data-paper]").value;
    open(new URL(`jobs/${this.model.name_kept}.pdf?page=${paper}`, document.baseURI).href, "_blank");
  }
}

const nameOf = (input) => input.dataset?.entry ?? (input.dataset?.about ? `about|${input.dataset.about}` : "");

const escaped = (text) => text.replace(/[&<>"]/g, (one) => `&#${one.charCodeAt(0)};`);

function say(line, words) {
  if (line.textContent !== (words ?? "")) line.textContent = words ?? "";
}

/** Put HTML of ours in place of what was there, only where it differs, what was unfolded staying so. */
function put(place, html) {
  if (place.shown === html) return;
  const open = [...place.querySelectorAll("details")].map((one) => one.open);
  place.innerHTML = html;
  place.shown = html;
  place.querySelectorAll("details").forEach((one, n) => (one.open = open[n] ?? one.open));
}

function check(box, name, value) {
  const radio = box.querySelector(`input[name=${name}][value=${value}]`);
  if (radio) radio.checked = true;
}
