/** A visit in its browser: the address follows the state, the state follows Back and Forward, a server gone is said. */

/** Milliseconds between two knocks at a server that is gone. */
const KNOCK = 1500;
const GONE = "The server has been stopped. Start mechviz serve again; this page goes on by itself when it is there.";

export function render({model, el}) {
  const ending = new AbortController();
  const visit = new Visit(model, el, ending.signal);
  for (const name of ["query", "heard"]) model.on(name, () => visit.write());
  model.on("remove", () => ending.abort());
  visit.write(true);
}

const given = (search) => new URLSearchParams(search);

class Visit {
  constructor(model, el, signal) {
    Object.assign(this, {model, signal, asked: model.heard, heard: model.heard, shown: location.search});
    this.words = document.createElement("p");
    this.words.className = "gone";
    this.words.setAttribute("role", "alert");
    this.words.hidden = true;
    el.append(this.words);
    addEventListener("popstate", () => this.#went(), {signal});
    for (const one of globalThis.Bokeh?.documents ?? []) one.on_event("connection_lost", () => this.#lost());
  }

  /** Bring the state into the address: over what stands there, or as a new entry where the place is another one. */
  write(first = false) {
    const {query, heard, places} = this.model;
    if (heard < this.asked) return;
    const answers = heard !== this.heard;
    this.heard = heard;
    if (query !== null && query !== location.search) {
      const [here, there] = [given(location.search), given(query)];
      const moved = !first && !answers && places.some((name) => here.get(name) !== there.get(name));
      history[moved ? "pushState" : "replaceState"](null, "", `${location.pathname}${query}${location.hash}`);
    }
    this.shown = location.search;
    links();
  }

  /** The user went back or forward: the desk follows, or begins anew as the address says. */
  #went() {
    if (location.search === this.shown) return;
    if (!this.model.places.length) {
      location.reload();
      return;
    }
    this.shown = location.search;
    this.asked += 1;
    this.model.send_msg({went: location.search, n: this.asked});
  }

  /** Say that the server is gone, and come back when it is there again. */
  async #lost() {
    if (this.gone) return;
    this.gone = true;
    this.words.textContent = GONE;
    this.words.hidden = false;
    while (!this.signal.aborted) {
      await new Promise((done) => setTimeout(done, KNOCK));
      const answer = await fetch(location.href, {cache: "no-store"}).catch(() => null);
      if (!answer?.ok) continue;
      dispatchEvent(new Event("serverback"));
      location.reload();
      return;
    }
  }
}

/** A link to another desk takes the setup along, but nothing of this desk's own. */
function links() {
  const setup = [...given(location.search)].filter(([name]) => !name.startsWith("_"));
  for (const link of document.querySelectorAll("a[data-desk]")) link.search = new URLSearchParams(setup).toString();
}
