/** What the solid view is worked with: menus, switches and the slider that takes the brake apart. */

import {DRUMS} from "./solid_look.js";
import {CUTS} from "./solid_scene.js";

const STEPS = 200;

/** The tools of one view; they act on the `view` itself. */
export class SolidTools {
  constructor(box, view, signal) {
    const find = (name) => box.querySelector(`[data-role=solid-${name}]`);
    Object.assign(this, {view, stand: find("stand"), drum: find("drum"), cut: find("cut"), wheel: find("wheel"), apart: find("apart")});
    this.stand.append(new Option("your own", "-1"), ...view.data.views.map(({name}, i) => new Option(name.replaceAll("-", " "), String(i))));
    this.stand.options[0].hidden = true;
    this.drum.append(...Object.entries(DRUMS).map(([name, words]) => new Option(words, name)));
    this.cut.append(...Object.keys(CUTS).map((name) => new Option(name, name)));
    const on = (node, event, act) => node.addEventListener(event, act, {signal});
    on(this.stand, "change", () => view.standAt(Number(this.stand.value)));
    on(this.drum, "change", () => view.set({drum: this.drum.value}));
    on(this.cut, "change", () => view.setCut(this.cut.value));
    on(this.apart, "input", () => view.set({apart: Number(this.apart.value) / STEPS}));
    this.apart.max = String(STEPS);
    const {player} = view;
    player.on("solid-wheel", "click", () => view.set({wheel: !view.now.wheel}), signal);
    player.on("solid-next", "click", () => view.nextPart(1), signal);
    player.on("solid-previous", "click", () => view.nextPart(-1), signal);
  }

  /** Show how things stand, and at which of the named places the viewer does. */
  show({drum, cut, wheel, apart}, stand) {
    this.drum.value = drum;
    this.cut.value = cut;
    this.stand.value = String(stand);
    this.wheel.setAttribute("aria-pressed", String(wheel));
    const place = String(Math.round(STEPS * apart));
    if (this.apart.value !== place) this.apart.value = place;
    this.apart.setAttribute("aria-valuetext", apart === 0 ? "together" : apart === 1 ? "apart" : `${Math.round(100 * apart)} % apart`);
  }
}
