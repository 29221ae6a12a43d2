/** The moving picture in a desk: the same module as in the page without a server, with data that the server keeps. */

export async function render({model, el}) {
  const shown = new Shown(model, el);
  model.on("source", () => shown.load());
  model.on("message", () => shown.say());
  model.on("msg:custom", (data) => shown.patch(data));
  model.on("remove", () => shown.leave());
  await shown.load();
}

const at = (address) => new URL(address, document.baseURI).href;

/** One brake in its element: loaded, drawn, drawn anew when it is another one. */
class Shown {
  constructor(model, el) {
    Object.assign(this, {model, acts: [], patches: []});
    this.words = document.createElement("div");
    this.words.className = "waiting";
    this.words.setAttribute("role", "status");
    this.place = document.createElement("div");
    el.append(this.words, this.place);
    this.themes = new MutationObserver(() => this.#dress());
    this.themes.observe(document.documentElement, {attributes: true, attributeFilter: ["data-theme"]});
  }

  /** Fetch the brake that the model names, and draw it. The one before stays until then. */
  async load() {
    const {source} = this.model;
    this.wanted = source;
    if (!source) {
      this.say();
      return;
    }
    this.#tell("Working out this brake …");
    try {
      const [{render: draw}, data] = await Promise.all([import(at("mechviz.js")), this.#fetched(source)]);
      if (this.wanted !== source) return;
      this.#draw(draw, data);
      this.model.loaded = source;
      this.say();
      this.model.failure = [];
      this.model.shown = source;
    } catch (error) {
      if (this.wanted !== source) return;
      this.model.failed = source;
      this.model.failure = error.faults ?? [];
      if (error.faults) this.#tell(["This cannot be shown:", ...error.faults].join("\n"));
      else this.#tell(`This brake could not be shown (${error.message}). Reload the page to try again.`);
    }
  }

  async #fetched(source) {
    const data = await this.#json(source);
    if (!data.steps) return data;
    const brakes = await Promise.all(data.brakes.map((key) => this.#json(`made/${key}.json`)));
    return {...data, brakes, brakeKeys: data.brakes};
  }

  async #json(address) {
    const answer = await fetch(at(address));
    if (answer.ok) {
      const data = await answer.json();
      if (data.refused) throw Object.assign(new Error("it has faults"), {faults: data.refused});
      return data;
    }
    throw new Error(answer.status === 404 ? "the server has been started anew" : `the server says ${answer.status}`);
  }

  #draw(draw, data) {
    const again = this.leaving && !data.steps;
    const kept = {text: again ? "" : this.model.look, changed: (text) => this.#looked(text)};
    this.data = {...data, kept, keysWide: this.model.whole_keyboard};
    this.moved = null;
    if (this.leaving) for (const act of this.acts) act();
    else {
      const on = (name, act) => ({data: this.acts, patch: this.patches})[name]?.push(act);
      const shown = this;
      this.leaving = draw({model: {get data() { return shown.data; }, get patch() { return shown.moved; }, on}, el: this.place});
    }
    this.#dress();
  }

  /** Move at once as another brake that the server tells in short, where that is told against the brake that stands. */
  patch({of, patch}) {
    if (of !== this.model.loaded || !this.leaving) return;
    this.moved = patch;
    for (const act of this.patches) act();
  }

  #looked(text) {
    this.model.look = text;
    this.#dress();
  }

  /** The theme is that of the whole page, and a change within the picture is one of the page. */
  #dress() {
    const inner = this.place.querySelector(".mechviz");
    const root = document.documentElement;
    if (!inner) return;
    if (root.dataset.theme && inner.dataset.theme !== root.dataset.theme) inner.dataset.theme = root.dataset.theme;
    if (inner === this.dressed) return;
    this.dressed = inner;
    this.inner?.disconnect();
    this.inner = new MutationObserver(() => {
      if (inner.dataset.theme !== "auto") root.dataset.theme = inner.dataset.theme;
    });
    this.inner.observe(inner, {attributes: true, attributeFilter: ["data-theme"]});
  }

  /** Show the model's message, if it has one: why there is no brake to be seen. */
  say() {
    this.#tell(this.model.source ? "" : this.model.message);
    this.place.hidden = !this.model.source;
  }

  #tell(words) {
    this.words.textContent = words;
    this.words.hidden = !words;
  }

  leave() {
    this.themes.disconnect();
    this.inner?.disconnect();
    this.leaving?.();
  }
}
