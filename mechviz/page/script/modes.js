/** The four ways to look at the brake: pressed by hand, over its life, with defects, and by its air. One at a time. */

import {Air} from "./air.js";
import {Faults} from "./faults.js";
import {Life} from "./life.js";

const MAKERS = {life: Life, faults: Faults, air: Air};

/** The names, in the order of their keys. */
export const MODES = ["brake", "life", "faults", "air"];

/** The modes of one player. A mode is made when it is first opened. */
export class Modes {
  constructor(player, data, signal) {
    Object.assign(this, {player, data, signal});
    this.name = "brake";
    this.made = {};
    this.now = null;
    this.buttons = Object.fromEntries(MODES.map((name) => [name, player.root.querySelector(`[data-mode-key=${name}]`)]));
    for (const name of MODES) {
      this.buttons[name].hidden = !this.#has(name);
      player.on(`mode-${name}`, "click", () => this.open(name), signal);
    }
  }

  /** Whether the data have what a mode shows. */
  #has(name) {
    return name === "brake" || Boolean(this.data[name]);
  }

  #make(name) {
    const {player, data, signal} = this;
    const panel = player.root.querySelector(`[data-panel=${name}]`);
    return new MAKERS[name](player, data[name], panel, signal);
  }

  /** Open a mode; `given` are address parameters that say where in it. */
  open(name, given = null) {
    const {player} = this;
    if ((name === this.name && !given) || !this.#has(name)) return;
    if (player.teller.telling) player.teller.end();
    this.now?.close();
    player.clock.halt();
    player.clock.jump(0);
    this.name = name;
    const {root} = player;
    root.dataset.mode = name;
    for (const panel of root.querySelectorAll("[data-panel]")) panel.hidden = panel.dataset.panel !== name;
    for (const [one, button] of Object.entries(this.buttons)) button.setAttribute("aria-pressed", String(one === name));
    this.now = name === "brake" ? null : (this.made[name] ??= this.#make(name));
    if (given) this.now?.read(given);
    player.scene.mode = name;
    this.now?.open();
    this.now?.resize();
    player.scene.resize(player.units);
    player.changed();
    player.shown();
  }

  /** As address parameters. */
  text() {
    return this.now ? [`m=${this.name}`, ...this.now.text()] : [];
  }

  /** Take them from the address. */
  read(given) {
    const name = given.get("m");
    if (MAKERS[name] && this.data[name]) this.open(name, given);
    else if (this.name !== "brake") this.open("brake");
  }
}
