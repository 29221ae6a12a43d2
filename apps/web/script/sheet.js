/** A part of a desk whose HTML the server writes: what is pressed or typed goes there as messages.

An element with `data-act` is pressed, one with `data-set` is set: `{act, place, key, value}`. A range that moves sends
while it moves, never more than one message that was not answered by a frame. New HTML is laid over the old, so that
focus and what is being typed stay. Files come as messages too, in parts. */

export function render({model, el}) {
  const sheet = new Sheet(model, el);
  model.on("html", () => sheet.follow());
  model.on("msg:custom", (data) => sheet.hear(data));
  model.on("remove", () => sheet.leave());
  sheet.follow();
}

const SETTLED = 350; // ms without a change after which a slider stands
const PAUSE = 40; // ms between two messages of a slider that moves

class Sheet {
  constructor(model, el) {
    Object.assign(this, {model, parts: new Map(), last: 0});
    this.box = document.createElement("div");
    this.box.className = "sheet";
    this.status = document.createElement("p");
    this.status.className = "unseen";
    this.status.setAttribute("role", "status");
    el.append(this.box, this.status);
    this.ending = new AbortController();
    const {signal} = this.ending;
    this.box.addEventListener("click", (event) => this.#pressed(event), {signal});
    this.box.addEventListener("change", (event) => this.#changed(event), {signal});
    this.box.addEventListener("input", (event) => this.#moved(event), {signal});
    this.box.addEventListener("keydown", (event) => this.#key(event), {signal});
    if (model.tells_theme) this.#theme(signal);
  }

  follow() {
    const next = document.createElement("div");
    next.innerHTML = this.model.html;
    morph(this.box, next, this.box.getRootNode().activeElement);
    for (const one of this.box.querySelectorAll("[data-describes]")) {
      const part = document.querySelector(`.part-${one.dataset.describes}`);
      part?.setAttribute("role", "img");
      part?.setAttribute("aria-label", one.textContent);
      if (part) this.#passive(part);
    }
  }

  /** A plot has no keys of its own: the keyboard goes by the sliders and rows instead, and past its canvas. */
  #passive(part, left = 50) {
    const [layer] = deep(part, ".bk-events");
    if (layer) layer.tabIndex = -1;
    else if (left) this.looking = setTimeout(() => this.#passive(part, left - 1), 200);
  }

  hear(data) {
    if (data?.say) this.status.textContent = data.say;
    if (data?.file) this.#take(data);
    if (data?.picture) picture(data.picture, data.name, data.kind).catch(() => (this.status.textContent = "There is no picture to save yet."));
    if (data?.lost && document.activeElement !== document.body) return; // the focus is somewhere: leave it there
    if (data?.focus) requestAnimationFrame(() => this.box.querySelector(data.focus)?.focus());
  }

  leave() {
    clearTimeout(this.waiting);
    clearTimeout(this.ended);
    clearTimeout(this.looking);
    this.ending.abort();
  }

  #send(element, name, extra = {}) {
    const {place, key} = element.dataset;
    this.model.send_msg({act: name, place: place === undefined ? null : Number(place), key: key ?? null, ...extra});
  }

  #pressed(event) {
    const element = event.target.closest("[data-act]");
    if (element && !element.disabled) this.#send(element, element.dataset.act);
  }

  #changed(event) {
    const element = event.target.closest("[data-set]");
    if (!element) return;
    clearTimeout(this.waiting);
    if (element.type === "range") {
      // arrow keys end a move at every step: what takes time waits until there is no other one
      this.#moved(event);
      clearTimeout(this.ended);
      this.ended = setTimeout(() => this.#send(element, element.dataset.set, {value: element.value, end: true}), SETTLED);
      return;
    }
    this.#send(element, element.dataset.set, {value: element.type === "checkbox" ? element.checked : element.value, end: true});
  }

  /** A slider that moves says so now and then, and where it stands in the end. */
  #moved(event) {
    const element = event.target.closest("input[type=range][data-set]");
    if (!element) return;
    const out = this.box.querySelector(`output[for="${element.id}"]`);
    if (out && element.dataset.unit !== undefined) out.textContent = `${Number(element.value).toFixed(Number(element.dataset.digits))} ${element.dataset.unit}`;
    clearTimeout(this.waiting);
    const go = () => {
      this.last = performance.now();
      this.#send(element, element.dataset.set, {value: element.value, end: false});
    };
    this.waiting = setTimeout(go, Math.max(0, this.last + PAUSE - performance.now()));
  }

  /** Undo and redo of this sheet where it has them; arrow keys go along a row of tabs. */
  #key(event) {
    const typing = event.target.matches("input:not([type=range]), textarea");
    const key = event.key.toLowerCase();
    if ((event.ctrlKey || event.metaKey) && !event.altKey && "yz".includes(key) && !typing) {
      const name = key === "y" || event.shiftKey ? "redo" : "undo";
      if (!this.box.querySelector(`[data-act=${name}]`)) return;
      event.preventDefault();
      this.model.send_msg({act: name, place: null, key: null});
    }
    const step = {arrowright: 1, arrowleft: -1}[key];
    const tab = event.target.closest("[role=tab]");
    if (!step || !tab) return;
    event.preventDefault();
    const tabs = [...tab.parentElement.querySelectorAll("[role=tab]")];
    const next = tabs[(tabs.indexOf(tab) + step + tabs.length) % tabs.length];
    next.focus();
    next.click();
  }

  #take({file, type, part, last}) {
    const parts = this.parts.get(file) ?? [];
    parts.push(Uint8Array.from(atob(part), (letter) => letter.charCodeAt(0)));
    this.parts.set(file, parts);
    if (!last) return;
    this.parts.delete(file);
    save(new Blob(parts, {type}), file);
    this.status.textContent = `Saved as ${file}`;
  }

  #theme(signal) {
    const root = document.documentElement;
    const system = matchMedia("(prefers-color-scheme: dark)");
    const tell = () => {
      const theme = root.dataset.theme || (system.matches ? "dark" : "light");
      if (theme !== this.told) this.model.send_msg({act: "theme", place: null, key: (this.told = theme)});
    };
    const phone = matchMedia("(max-width: 800px)");
    const wide = () => this.model.send_msg({act: "width", place: null, key: phone.matches ? "phone" : "desk"});
    phone.addEventListener("change", wide, {signal});
    if (phone.matches) wide();
    const watch = new MutationObserver(tell);
    watch.observe(root, {attributes: true, attributeFilter: ["data-theme"]});
    system.addEventListener("change", tell, {signal});
    signal.addEventListener("abort", () => watch.disconnect());
    document.fonts.load('17px "Mechviz Sans"').then(() => document.fonts.load('700 17px "Mechviz Sans"')).then(tell, tell);
  }
}

export function save(blob, name) {
  const link = Object.assign(document.createElement("a"), {href: URL.createObjectURL(blob), download: name});
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}

/** Save a plot as it stands, by the name of its model. */
async function picture(wanted, name, kind) {
  const canvas = [...deep(document, "canvas[data-picture]")].find((one) => one.dataset.picture === wanted);
  if (canvas) return canvas.picture().toBlob((blob) => save(blob, name), "image/png");
  const view = window.Bokeh.index.query_one((one) => one.model.name === wanted && one.model.type === "Figure");
  const layer = view.export(kind, true);
  return save(await layer.to_blob(), name);
}

function* deep(root, selector) {
  yield* root.querySelectorAll(selector);
  for (const one of root.querySelectorAll("*")) if (one.shadowRoot) yield* deep(one.shadowRoot, selector);
}

/** Make the old element's content like the new one's, with as little change as that takes. */
function morph(old, next, focused) {
  const theirs = [...next.childNodes];
  const own = [...old.childNodes];
  const kept = new Map(own.filter((node) => node.id).map((node) => [node.id, node]));
  let at = old.firstChild;
  for (const node of theirs) {
    const mine = (node.id && kept.get(node.id)) || (at && !at.id && like(at, node) ? at : null);
    if (!mine || !like(mine, node)) {
      old.insertBefore(node, at);
      continue;
    }
    if (mine !== at) old.insertBefore(mine, at);
    else at = at.nextSibling;
    if (mine.nodeType === Node.ELEMENT_NODE) dress(mine, node, focused);
    else if (mine.data !== node.data) mine.data = node.data;
  }
  while (at) {
    const gone = at;
    at = at.nextSibling;
    gone.remove();
  }
}

const like = (one, other) => one.nodeType === other.nodeType && one.nodeName === other.nodeName && (one.id || "") === (other.id || "");

function dress(mine, next, focused) {
  const busy = mine === focused;
  for (const {name} of [...mine.attributes]) if (!next.hasAttribute(name) && !(name === "open" && mine.nodeName === "DETAILS")) mine.removeAttribute(name);
  for (const {name, value} of next.attributes) if (mine.getAttribute(name) !== value) mine.setAttribute(name, value);
  if ("value" in mine && mine.nodeName === "INPUT") {
    const wanted = next.getAttribute("value") ?? "";
    const typed = busy && mine.type !== "range" && mine.value !== mine.dataset.sent;
    const sliding = busy && mine.type === "range";
    if (mine.value !== wanted && !typed && !sliding) mine.value = wanted;
    mine.dataset.sent = wanted;
  }
  if (mine.nodeName === "SELECT") {
    morph(mine, next, focused);
    const chosen = [...next.options].findIndex((option) => option.hasAttribute("selected"));
    mine.selectedIndex = Math.max(chosen, 0);
    return;
  }
  morph(mine, next, focused);
}
