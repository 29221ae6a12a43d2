/** A pen to draw on the picture with mouse, finger or pencil. Lines stay where they are in the picture, whatever its size. */

import {draw} from "./svg.js";

const CLOSE = 2;

/** The pen of one lesson. */
export class Pen {
  constructor(document, signal) {
    this.on = false;
    this.svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    this.svg.setAttribute("class", "lesson-pen");
    this.svg.setAttribute("role", "img");
    this.svg.setAttribute("aria-label", "What is drawn on the picture");
    const acts = {pointerdown: (event) => this.#begin(event), pointermove: (event) => this.#go(event), pointerup: () => this.#end(), pointercancel: () => this.#end()};
    for (const [name, act] of Object.entries(acts)) this.svg.addEventListener(name, act, {signal});
  }

  /** Lie over the picture of a page. */
  stand(root) {
    this.picture = root.querySelector(".picture > svg");
    root.querySelector("main").append(this.svg);
    this.use(this.on);
  }

  /** Draw, or let the mouse through to the page. */
  use(on) {
    this.on = on;
    this.svg.dataset.on = on ? "yes" : "no";
  }

  #begin(event) {
    if (!this.on || event.button > 0) return;
    event.preventDefault();
    this.svg.setAttribute("viewBox", this.picture.getAttribute("viewBox"));
    this.svg.setPointerCapture(event.pointerId);
    const group = draw(this.svg, "g", {class: "lesson-line"});
    this.line = [draw(group, "path", {class: "lesson-halo"}), draw(group, "path", {class: "lesson-ink"})];
    this.points = [];
    this.#add(event);
  }

  #go(event) {
    if (this.line) this.#add(event);
  }

  #add(event) {
    const {x, y} = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    const last = this.points.at(-1);
    if (last && Math.hypot(x - last[0], y - last[1]) < CLOSE) return;
    this.points.push([Math.round(x), Math.round(y)]);
    const [first] = this.points;
    const path = this.points.length > 1 ? `M${this.points.map((point) => point.join(" ")).join("L")}` : `M${first.join(" ")}h.1`;
    for (const node of this.line) node.setAttribute("d", path);
  }

  #end() {
    this.line = null;
  }

  /** Take the last line back. */
  undo() {
    this.#end();
    this.svg.lastElementChild?.remove();
  }

  /** Wipe all. */
  clear() {
    this.#end();
    this.svg.replaceChildren();
  }
}
