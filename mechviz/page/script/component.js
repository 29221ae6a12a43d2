/**
 * The page as a component of an application: `render({model, el})`, whose model has the page's data as `model.data`.
 *
 * `model.data` is what mechviz/page/html.py makes for a component, or its JSON. Where the model tells of changes
 * (`model.on("data", act)` or `model.on("change:data", act)`), other data bring another brake, looked at as the one
 * before: units, theme and place stay. Data with `steps` are a lesson, and are played as one. The style sheet comes with
 * the data as `css`, or is the application's business. Where the data have `keysWide`, keys are heard wherever the focus
 * is in the document. Data with `kept` begin as its `text` says (what the page without a server has in its address), and
 * tell `changed`. The layout follows the width of the element; `--mechviz-above` is what else of the window's height is
 * taken.
 */

import {Fonts} from "./fonts.js";
import {mountLesson} from "./lesson.js";
import {mount} from "./player.js";

const CHANGES = ["data", "change:data"];

/** Draw a model's brake into an element. Returns what takes it back; the model's `remove` does the same. */
export function render({model, el}) {
  const component = new Component(model, el);
  const again = () => component.show();
  const patch = () => component.patch();
  const leave = () => {
    for (const name of CHANGES) model.off?.(name, again);
    model.off?.("patch", patch);
    component.leave();
  };
  model.on?.("patch", patch);
  component.show();
  for (const name of CHANGES) model.on?.(name, again);
  model.on?.("remove", leave);
  return leave;
}

/** One brake in one element. */
class Component {
  constructor(model, el) {
    Object.assign(this, {model, el});
    this.fonts = new Fonts(el.ownerDocument);
  }

  /** Show the model's data, unless they are shown already. */
  show() {
    const {model} = this;
    const given = model.data ?? model.get?.("data");
    if (!given || given === this.given) return;
    const data = typeof given === "string" ? JSON.parse(given) : given;
    if (this.#rewritten(data)) return;
    const looked = Boolean(this.data?.steps) === Boolean(data.steps) && !data.kept?.text && this.player?.looked;
    this.leave();
    Object.assign(this, {given, data});
    if (data.css) this.#dress(data.css);
    this.box = this.el.ownerDocument.createElement("div");
    this.box.className = "mechviz-place";
    this.el.append(this.box);
    this.player = data.steps ? mountLesson(this.box, {...data, wholePage: false}) : mount(this.box, {...data, wholePage: false});
    if (looked) this.player.look(looked);
  }

  /** Move as the brake that the model's `patch` makes of the one that stands; null is that one again. */
  patch() {
    this.player?.patch?.(this.model.patch ?? null);
  }

  /** Whether the data are the lesson that is played, only in other words: then it goes on at its step. */
  #rewritten(data) {
    if (!data.steps || data.name !== this.data?.name || data.brakeKeys?.join() !== this.data.brakeKeys?.join()) return false;
    Object.assign(this, {given: data, data});
    this.player.rewrite(data.steps, data.title);
    return true;
  }

  #dress(css) {
    this.fonts.take(css);
    this.style = this.el.ownerDocument.createElement("style");
    this.style.textContent = css;
    this.el.append(this.style);
  }

  /** Take everything back. */
  leave() {
    this.player?.destroy();
    this.box?.remove();
    this.style?.remove();
    this.fonts.leave();
    this.player = this.given = this.data = null;
  }
}
