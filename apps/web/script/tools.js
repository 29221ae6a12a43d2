/** The bar of a desk: open, save, start from, undo, redo, theme. It asks the server by messages. */

const HTML = `
<details><summary>File, undo, light or dark</summary>
<div class="bar" role="toolbar" aria-label="Setup file">
<button type="button" data-act="open">Open <kbd>Ctrl O</kbd></button>
<button type="button" data-act="save">Save <kbd>Ctrl S</kbd></button>
<label>Start from <select data-act="start"><option value="">choose a brake …</option></select></label>
<button type="button" data-act="undo">Undo <kbd>Ctrl Z</kbd></button>
<button type="button" data-act="redo">Redo <kbd>Ctrl Y</kbd></button>
<button type="button" data-act="theme">Light or dark</button>
<input type="file" accept=".toml,text/plain" hidden aria-label="Setup file">
</div></details>
<div class="refused" role="alert" hidden><h2></h2><ul></ul><button type="button" data-act="dismiss">Close</button></div>
<p class="unseen" role="status" aria-live="polite"></p>`;

export function render({model, el}) {
  const ending = new AbortController();
  const tools = new Tools(model, el, ending.signal);
  const follow = () => tools.follow();
  for (const name of ["toml", "can_undo", "can_redo", "refused"]) model.on(name, follow);
  model.on("remove", () => ending.abort());
  follow();
}

/** The bar in its element. */
class Tools {
  constructor(model, el, signal) {
    Object.assign(this, {model, signal});
    this.box = document.createElement("div");
    this.box.className = "tools";
    this.box.innerHTML = HTML;
    el.append(this.box);
    this.picker = this.box.querySelector("input");
    this.menu = this.box.querySelector("select");
    for (const name of model.builtin) this.menu.append(new Option(name, name));
    this.narrow = matchMedia("(max-width: 700px)");
    this.#fold();
    this.#wire();
  }

  /** On a phone the bar is folded away. */
  #fold() {
    this.box.querySelector("details").open = !this.narrow.matches;
  }

  #wire() {
    const {box, signal} = this;
    this.narrow.addEventListener("change", () => this.#fold(), {signal});
    box.addEventListener("click", (event) => this.#act(event.target.closest("button")?.dataset.act), {signal});
    this.menu.addEventListener("change", () => this.#start(), {signal});
    this.picker.addEventListener("change", () => this.#take(this.picker.files), {signal});
    document.addEventListener("keydown", (event) => this.#key(event), {signal});
    document.addEventListener("dragover", (event) => event.preventDefault(), {signal});
    document.addEventListener("drop", (event) => this.#dropped(event), {signal});
  }

  #act(name) {
    const acts = {open: () => this.picker.click(), save: () => this.#save(), theme: switchTheme};
    if (acts[name]) acts[name]();
    else if (name) this.model.send_msg({act: name});
  }

  #key(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.defaultPrevented) return;
    const key = event.key.toLowerCase();
    const act = {o: "open", s: "save", y: "redo", z: event.shiftKey ? "redo" : "undo"}[key];
    const [from] = event.composedPath();
    const typing = from.matches?.("input:not([type=range]):not([type=checkbox]), textarea") && "yz".includes(key);
    if (!act || typing) return;
    event.preventDefault();
    this.#act(act);
  }

  #start() {
    if (this.menu.value) this.model.send_msg({start: this.menu.value});
    this.#say(`Started from ${this.menu.value}`);
    this.menu.value = "";
  }

  #dropped(event) {
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    this.#take(event.dataTransfer.files);
  }

  /** Read a file that was chosen or dropped, and send its text. */
  async #take(files) {
    const [file] = files;
    this.picker.value = files === this.picker.files ? "" : this.picker.value;
    if (!file) return;
    const most = this.model.most_bytes;
    if (file.size > most) {
      this.#refuse(file.name, [`It has more than ${most.toLocaleString("en")} bytes. A setup file is one page of short lines.`]);
      return;
    }
    try {
      const text = new TextDecoder("utf-8", {fatal: true}).decode(await file.arrayBuffer());
      this.model.send_msg({open: text, name: file.name});
      this.#say(`Opening ${file.name}`);
    } catch {
      this.#refuse(file.name, ["It is not UTF-8 text. Save it as UTF-8, or choose a setup file (.toml)."]);
    }
  }

  #save() {
    const address = URL.createObjectURL(new Blob([this.model.toml], {type: "application/toml"}));
    const link = Object.assign(document.createElement("a"), {href: address, download: this.model.name_of_file});
    link.click();
    setTimeout(() => URL.revokeObjectURL(address), 1000);
    this.#say(`Saved as ${this.model.name_of_file}`);
  }

  #refuse(name, lines) {
    const sheet = this.box.querySelector(".refused");
    sheet.querySelector("h2").textContent = `${name} cannot be used`;
    sheet.querySelector("ul").replaceChildren(...lines.map((line) => Object.assign(document.createElement("li"), {textContent: line})));
    sheet.querySelector("button").onclick = () => (sheet.hidden = true);
    sheet.hidden = false;
  }

  #say(words) {
    this.box.querySelector("[role=status]").textContent = words;
  }

  /** Show what the server says. */
  follow() {
    const {model, box} = this;
    box.querySelector("[data-act=undo]").disabled = !model.can_undo;
    box.querySelector("[data-act=redo]").disabled = !model.can_redo;
    if (model.refused) this.#refuse(model.refused.name, model.refused.lines);
    else box.querySelector(".refused").hidden = true;
  }
}

function switchTheme() {
  const root = document.documentElement;
  const dark = root.dataset.theme ? root.dataset.theme === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
  root.dataset.theme = dark ? "light" : "dark";
  localStorage.setItem("mechviz-theme", root.dataset.theme);
}
