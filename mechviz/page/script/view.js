/** How the page is looked at: units, theme, large type, labels, full screen, help, and the address that holds it all. */

/** The view of one player. */
export class View {
  constructor(player, data, signal) {
    this.player = player;
    this.root = player.root;
    this.document = this.root.ownerDocument;
    this.inAddress = Boolean(data.wholePage);
    this.kept = data.kept ?? null;
    this.sheet = this.root.querySelector("[data-role=help-sheet]");
    const acts = {units: "switchUnits", theme: "switchTheme", large: "large", labels: "labels", full: "fullScreen",
      print: "print", help: "help"};
    for (const [name, act] of Object.entries(acts)) player.on(name, "click", () => this[act](), signal);
    this.sheet.querySelector("button").addEventListener("click", () => this.sheet.close(), {signal});
    this.watcher = new ResizeObserver(() => this.resized());
    this.watcher.observe(this.root.querySelector(".plots"));
    signal.addEventListener("abort", () => this.#leave());
    this.window = this.document.defaultView;
    for (const [event, on] of [["beforeprint", true], ["afterprint", false]]) {
      this.window.addEventListener(event, () => this.#printed(on), {signal});
    }
    if (this.inAddress) this.window.addEventListener("hashchange", () => this.#readdressed(), {signal});
  }

  #leave() {
    this.watcher.disconnect();
    clearTimeout(this.later);
  }

  /** Something has another size than before. */
  resized() {
    this.player.scene.lettered();
    this.player.scene.resize(this.player.units);
    this.player.modes.now?.resize();
    this.player.solid?.named();
    this.player.changed();
  }

  /** Draw for a sheet of paper, which is never narrow, whatever the screen is; then for the screen again. */
  #printed(on) {
    if (on) this.root.dataset.printing = "yes";
    else delete this.root.dataset.printing;
    this.player.scene.printing = on;
    this.player.drawAnew();
  }

  get helping() {
    return this.sheet.open;
  }

  help() {
    this.sheet.showModal();
  }

  print() {
    this.window.print();
  }

  switchUnits() {
    const {units} = this.player;
    this.setUnits(units.system === "inch" ? "metric" : "inch");
  }

  setUnits(system) {
    const {player} = this;
    player.units.system = system;
    this.root.querySelector("[data-role=units] span").textContent = system === "inch" ? "Millimetres" : "Inches";
    this.root.querySelectorAll("[data-found]").forEach((node) => (node.hidden = node.dataset.found !== system));
    player.scene.units(player.units);
    player.teller.write();
    player.modes.now?.rule();
    player.changed();
    player.shown();
  }

  /** Whether the dark theme is on, by choice or by the reader's system. */
  get dark() {
    const {theme} = this.root.dataset;
    return theme === "auto" ? matchMedia("(prefers-color-scheme: dark)").matches : theme === "dark";
  }

  switchTheme() {
    this.root.dataset.theme = this.dark ? "light" : "dark";
    this.player.shown();
  }

  large() {
    this.#toggle("large", "large");
    this.resized();
  }

  labels() {
    this.#toggle("names", "labels");
  }

  #toggle(attribute, button) {
    const on = this.root.dataset[attribute] !== "yes";
    this.root.dataset[attribute] = on ? "yes" : "no";
    this.root.querySelector(`[data-role=${button}]`).setAttribute("aria-pressed", String(on));
    this.player.shown();
  }

  fullScreen() {
    if (this.document.fullscreenElement) this.document.exitFullscreen();
    else this.root.requestFullscreen?.().catch(() => undefined);
  }

  /** How it is looked at now. */
  get looked() {
    const {large, names, theme} = this.root.dataset;
    return {system: this.player.units.system, large, names, theme, solid: this.player.solid.text().join("&")};
  }

  /** Look at it so. */
  look({system, large, names, theme, solid}) {
    this.root.dataset.theme = theme;
    if (large !== this.root.dataset.large) this.large();
    if (names !== this.root.dataset.names) this.labels();
    this.setUnits(system);
    this.player.solid.read(new URLSearchParams(solid));
  }

  /** Keep the state in the address, or with whom the page is part of, a little later: browsers do not like it often. */
  remember() {
    if (!(this.inAddress || this.kept) || this.restoring) return;
    clearTimeout(this.later);
    this.later = setTimeout(() => this.#write(), 200);
  }

  /** Write the state into the address, unless another one stands there already and is about to be read. */
  #write() {
    this.kept?.changed(this.text());
    if (!this.inAddress || this.#address() !== this.seen) return;
    this.window.history.replaceState(null, "", `#${this.text()}`);
    this.seen = this.#address();
  }

  /** The state as text. */
  text() {
    const {settings, clock, units, teller} = this.player;
    const {large, names, theme} = this.root.dataset;
    const parts = [...settings.text(teller.telling ? teller.kept : settings.now), `x=${Number(clock.target.toFixed(3))}`, `u=${units.system}`];
    if (large === "yes") parts.push("l=1");
    if (names === "no") parts.push("b=0");
    if (theme !== "auto") parts.push(`c=${theme}`);
    parts.push(...this.player.modes.text(), ...this.player.solid.text());
    if (teller.telling) parts.push(`s=${teller.at + 1}`);
    return parts.join("&");
  }

  #address() {
    return this.window.location.hash.slice(1);
  }

  #readdressed() {
    if (this.#address() === this.seen) return;
    this.restore();
    this.player.changed();
  }

  /** Take the state from the address. */
  restore() {
    this.seen = this.inAddress ? this.#address() : (this.kept?.text ?? "");
    this.read(this.seen);
  }

  /** Take the state from a text as `text` writes it; what is missing is as to begin with, but units, theme and settings stay. */
  read(text) {
    const {player, root} = this;
    const given = new URLSearchParams(text);
    this.restoring = true;
    if (player.teller.telling) player.teller.end();
    player.modes.read(given);
    player.settings.read(given);
    const place = Number(given.get("x") ?? (player.modes.name === "life" ? 1 : 0));
    player.clock.jump(place >= 0 && place <= 1 ? place : 0);
    if (["light", "dark"].includes(given.get("c"))) root.dataset.theme = given.get("c");
    if ((given.get("l") === "1") !== (root.dataset.large === "yes")) this.#toggle("large", "large");
    if ((given.get("b") === "0") === (root.dataset.names === "yes")) this.#toggle("names", "labels");
    this.setUnits(["inch", "metric"].includes(given.get("u")) ? given.get("u") : player.units.system);
    player.solid.read(given);
    const step = Number(given.get("s"));
    if (step >= 1 && !player.modes.now) player.teller.start(step - 1, false);
    this.restoring = false;
  }
}
