/** Parallel axes on a canvas, with handles in SVG over it. A range is brushed by dragging along an axis, or by the arrow
keys on its two handles; a line is picked by a click, or by the arrow keys and Enter in the picture. */

export function render({model, el}) {
  const lines = new Lines(model, el);
  for (const name of ["axes", "steps", "brushed", "chosen", "words"]) model.on(name, () => lines.follow());
  model.on("remove", () => lines.leave());
  model.on("after_render", () => lines.follow());
  lines.follow();
}

const [FOOT, SIDE, STEPS] = [26, 66, 1000];
const HEIGHT = 430;
const NS = "http://www.w3.org/2000/svg";
const make = (name, attributes, text) => {
  const element = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  if (text !== undefined) element.textContent = text;
  return element;
};
const clip = (value) => Math.min(Math.max(value, 0), 1);

class Lines {
  constructor(model, el) {
    Object.assign(this, {model, brushed: {}, at: -1, top: 60});
    this.box = document.createElement("div");
    this.box.className = "lines";
    this.box.innerHTML = `<div class="scroll" tabindex="0" role="group" aria-label="All points: up and down arrow keys go from point to point within the brushed ranges, Enter takes one"><div class="stack"><canvas data-picture="lines"></canvas><svg></svg></div></div>
      <p class="soft" data-words></p><p class="unseen" role="status"></p>`;
    el.append(this.box);
    this.canvas = this.box.querySelector("canvas");
    this.svg = this.box.querySelector("svg");
    this.canvas.picture = () => this.#picture();
    this.scroll = this.box.querySelector(".scroll");
    this.ending = new AbortController();
    const {signal} = this.ending;
    this.sizes = new ResizeObserver(() => this.follow());
    this.sizes.observe(this.scroll);
    this.themes = new MutationObserver(() => this.draw());
    this.themes.observe(document.documentElement, {attributes: true, attributeFilter: ["data-theme"]});
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.draw(), {signal});
    this.svg.addEventListener("pointerdown", (event) => this.#press(event), {signal});
    this.svg.addEventListener("keydown", (event) => this.#nudge(event), {signal});
    this.scroll.addEventListener("keydown", (event) => this.#walk(event), {signal});
  }

  leave() {
    this.ending.abort();
    this.sizes.disconnect();
    this.themes.disconnect();
  }

  follow() {
    const {axes, steps} = this.model;
    if (!this.dragging) this.brushed = {...this.model.brushed};
    if (steps !== this.steps) Object.assign(this, {steps, at: -1});
    this.top = 28 + 17 * Math.max(1, ...axes.map((axis) => named(axis).length));
    this.count = axes.length ? steps.length / axes.length : 0;
    const least = axes.length > 1 ? 116 * (axes.length - 1) + 2 * SIDE : 260;
    this.width = Math.max(this.scroll.clientWidth, least);
    const ratio = window.devicePixelRatio || 1;
    Object.assign(this.canvas, {width: this.width * ratio, height: HEIGHT * ratio});
    for (const one of [this.canvas, this.svg]) Object.assign(one.style, {width: `${this.width}px`, height: `${HEIGHT}px`});
    this.box.querySelector("[data-words]").textContent = this.model.words;
    this.draw();
  }

  x(n) {
    const {axes} = this.model;
    return axes.length > 1 ? SIDE + (n * (this.width - 2 * SIDE)) / (axes.length - 1) : this.width / 2;
  }

  y(share) {
    return HEIGHT - FOOT - share * (HEIGHT - FOOT - this.top);
  }

  #matches(row) {
    return this.model.axes.every(({key}, n) => {
      const range = this.brushed[key];
      const share = this.steps[row * this.model.axes.length + n] / STEPS;
      return !range || (share >= range[0] - 0.0006 && share <= range[1] + 0.0006);
    });
  }

  draw() {
    const {axes, inside} = this.model;
    if (!axes.length || !this.width) return;
    const style = getComputedStyle(this.box);
    const look = (name) => style.getPropertyValue(`--mv-${name}`).trim();
    const pen = this.canvas.getContext("2d");
    const ratio = window.devicePixelRatio || 1;
    pen.setTransform(ratio, 0, 0, ratio, 0, 0);
    pen.fillStyle = look("paper");
    pen.fillRect(0, 0, this.width, HEIGHT);
    this.matching = [];
    const groups = {away: new Path2D(), outside: new Path2D(), inside: new Path2D()};
    for (let row = 0; row < this.count; row += 1) {
      const match = this.#matches(row);
      if (match) this.matching.push(row);
      this.#trace(groups[match ? (inside[row] ? "inside" : "outside") : "away"], row);
    }
    const fade = Math.min(0.9, Math.max(0.12, 60 / Math.sqrt(this.matching.length + 1) / 10));
    for (const [name, colour, alpha, dash] of [["away", "grid", 0.5, []], ["outside", "rule", fade, [3, 4]], ["inside", "push", fade, []]]) {
      Object.assign(pen, {strokeStyle: look(colour), globalAlpha: alpha, lineWidth: 1});
      pen.setLineDash(dash);
      pen.stroke(groups[name]);
    }
    pen.setLineDash([]);
    pen.globalAlpha = 1;
    this.#one(pen, this.model.chosen, look("ink"));
    if (this.at >= 0) this.#one(pen, axes.map((_, n) => this.steps[this.at * axes.length + n]), look("turn"));
    this.#axes();
  }

  /** The lines and their axes on one canvas, to be saved. */
  #picture() {
    const whole = document.createElement("canvas");
    const ratio = this.canvas.width / this.width;
    Object.assign(whole, {width: this.canvas.width, height: this.canvas.height});
    const pen = whole.getContext("2d");
    pen.drawImage(this.canvas, 0, 0);
    pen.scale(ratio, ratio);
    for (const one of this.svg.querySelectorAll(".line, .stop, .brush, text")) {
      const style = getComputedStyle(one);
      Object.assign(pen, {strokeStyle: style.stroke, fillStyle: style.fill, lineWidth: parseFloat(style.strokeWidth), lineJoin: "round"});
      if (one.nodeName === "text") {
        Object.assign(pen, {font: `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`, textAlign: {middle: "center", end: "right"}[style.textAnchor] ?? "left"});
        const at = [one.textContent, Number(one.getAttribute("x")), Number(one.getAttribute("y"))];
        pen.strokeText(...at);
        pen.fillText(...at);
      } else if (one.nodeName === "rect") {
        const box = ["x", "y", "width", "height"].map((name) => Number(one.getAttribute(name)));
        pen.globalAlpha = Number(style.fillOpacity);
        pen.fillRect(...box);
        pen.globalAlpha = 1;
        pen.strokeRect(...box);
      } else pen.stroke(new Path2D(one.getAttribute("d")));
    }
    return whole;
  }

  #trace(path, row) {
    const count = this.model.axes.length;
    for (let n = 0; n < count; n += 1) {
      const place = [this.x(n), this.y(this.steps[row * count + n] / STEPS)];
      if (n) path.lineTo(...place);
      else path.moveTo(...place);
    }
  }

  #one(pen, steps, colour) {
    if (steps.length !== this.model.axes.length || steps.some((step) => step === null)) return;
    Object.assign(pen, {strokeStyle: colour, lineWidth: 3});
    pen.beginPath();
    steps.forEach((step, n) => pen.lineTo(this.x(n), this.y(step / STEPS)));
    pen.stroke();
  }

  #axes() {
    const active = this.svg.getRootNode().activeElement;
    const held = active?.dataset?.end ? [active.dataset.key, active.dataset.end] : null;
    this.svg.replaceChildren(this.#defs(), ...this.model.axes.map((axis, n) => this.#axis(axis, n)));
    if (held) this.svg.querySelector(`[data-key="${held[0]}"][data-end="${held[1]}"]`)?.focus();
  }

  #defs() {
    const defs = make("defs", {});
    const pattern = make("pattern", {id: "lines-not", width: 8, height: 8, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)"});
    pattern.append(make("path", {d: "M4 0V8", class: "hatch"}));
    defs.append(pattern);
    return defs;
  }

  #axis(axis, n) {
    const x = this.x(n);
    const group = make("g", {class: `axis ${axis.verb ? `of-${axis.verb}` : ""}`});
    const [top, foot] = [this.y(1), this.y(0)];
    const {limit} = axis;
    const anchor = n === 0 ? "start" : n === this.model.axes.length - 1 ? "end" : "middle";
    const edge = {start: x - SIDE + 6, middle: x, end: x + SIDE - 6}[anchor];
    const words = named(axis);
    words.forEach((line, row) => group.append(make("text", {x: edge, y: top - 16 - 17 * (words.length - 1 - row), "text-anchor": anchor, class: "name"}, line)));
    if (limit) {
      for (const [from, to] of [[limit.most, 1], [0, limit.least]]) {
        if (from === null || to === null) continue;
        group.append(make("rect", {x: x - 9, width: 18, y: this.y(to), height: this.y(from) - this.y(to), class: "not"}));
      }
      for (const at of [limit.least, limit.most]) if (at !== null) group.append(make("path", {d: `M${x - 14} ${this.y(at)}H${x + 14}`, class: "stop"}));
      group.append(make("title", {}, `${axis.name}: ${limit.words}`));
    }
    group.append(make("path", {d: `M${x} ${top}V${foot}`, class: "line"}));
    for (const [share, word] of axis.ticks) {
      group.append(make("path", {d: `M${x - 4} ${this.y(share)}h8`, class: "line"}));
      group.append(make("text", {x: x + 8, y: this.y(share) + 5, class: "tick"}, word));
    }
    const range = this.brushed[axis.key];
    if (range) group.append(make("rect", {x: x - 7, width: 14, y: this.y(range[1]), height: Math.max(this.y(range[0]) - this.y(range[1]), 2), class: "brush"}));
    group.append(make("rect", {x: x - 18, width: 36, y: top - 8, height: foot - top + 16, class: "grip", "data-axis": n}));
    for (const end of [1, 0]) group.append(this.#handle(axis, n, end, range ?? [0, 1]));
    return group;
  }

  #handle(axis, n, end, range) {
    const value = axis.low + range[end] * (axis.high - axis.low);
    return make("rect", {
      x: this.x(n) - 13, y: this.y(range[end]) - 5, width: 26, height: 10, rx: 2, class: "handle", tabindex: 0, role: "slider",
      "aria-label": `${axis.name}, ${end ? "at most" : "at least"}`, "aria-valuemin": axis.low, "aria-valuemax": axis.high,
      "aria-valuenow": value, "aria-valuetext": `${value.toFixed(axis.digits)} ${axis.unit}`, "aria-orientation": "vertical",
      "data-key": axis.key, "data-end": end, "data-axis": n,
    });
  }

  #share(event) {
    const {top} = this.svg.getBoundingClientRect();
    return clip((HEIGHT - FOOT - (event.clientY - top)) / (HEIGHT - FOOT - this.top));
  }

  /** Drag a handle, or a new range along an axis; a press without a drag on an axis lets its range go. */
  #press(event) {
    const {axis: n, end} = event.target.dataset;
    if (n === undefined) {
      this.#choose(event);
      return;
    }
    event.preventDefault();
    const {key} = this.model.axes[n];
    const start = this.#share(event);
    const [fixed] = end === undefined ? [start] : [(this.brushed[key] ?? [0, 1])[1 - end]];
    let moved = false;
    const move = (now) => {
      const at = this.#share(now);
      if (Math.abs(at - start) < 0.01 && !moved) return;
      [moved, this.dragging] = [true, true];
      this.brushed[key] = [Math.min(fixed, at), Math.max(fixed, at)];
      this.draw();
    };
    const done = () => {
      removeEventListener("pointermove", move);
      removeEventListener("pointerup", done);
      this.dragging = false;
      if (moved) this.#send(key);
      else if (end === undefined && this.brushed[key]) this.#clear(key);
    };
    addEventListener("pointermove", move);
    addEventListener("pointerup", done);
  }

  #nudge(event) {
    const {key, end} = event.target.dataset ?? {};
    const step = {ArrowUp: 0.01, ArrowRight: 0.01, ArrowDown: -0.01, ArrowLeft: -0.01, PageUp: 0.1, PageDown: -0.1}[event.key];
    if (end === undefined) return;
    if (["Escape", "Delete", "Backspace"].includes(event.key)) this.#clear(key);
    else if (event.key === "Home" || event.key === "End" || step) {
      const range = [...(this.brushed[key] ?? [0, 1])];
      const wanted = step ? range[end] + step : event.key === "Home" ? 0 : 1;
      range[end] = Number(end) ? clip(Math.max(wanted, range[0] + 0.01)) : clip(Math.min(wanted, range[1] - 0.01));
      this.brushed[key] = range;
      this.draw();
      clearTimeout(this.later);
      this.later = setTimeout(() => this.#send(key), 250);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** From point to point by the arrow keys; Enter takes it. */
  #walk(event) {
    const step = {ArrowDown: 1, ArrowUp: -1}[event.key];
    if (event.target !== this.scroll || !this.matching?.length) return;
    if (step) {
      const now = this.matching.indexOf(this.at);
      this.at = this.matching[(now + step + this.matching.length) % this.matching.length];
      this.draw();
      this.#tell();
    } else if (event.key === "Enter" && this.at >= 0) this.model.send_msg({act: "pick", row: this.at});
    else return;
    event.preventDefault();
  }

  #tell() {
    const {axes} = this.model;
    const said = axes.map((axis, n) => `${axis.name} ${(axis.low + (this.steps[this.at * axes.length + n] / STEPS) * (axis.high - axis.low)).toFixed(axis.digits)} ${axis.unit}`);
    this.box.querySelector("[role=status]").textContent = said.join("; ");
  }

  /** Take the line nearest to a click, if one is near. */
  #choose(event) {
    const {left, top} = this.svg.getBoundingClientRect();
    const [x, y] = [event.clientX - left, event.clientY - top];
    const {axes} = this.model;
    const gap = axes.length > 1 ? this.x(1) - this.x(0) : 1;
    const n = Math.floor((x - this.x(0)) / gap);
    if (n < 0 || n >= axes.length - 1) return;
    const part = (x - this.x(n)) / gap;
    let [best, away] = [-1, 14];
    for (const row of this.matching ?? []) {
      const [one, other] = [n, n + 1].map((k) => this.y(this.steps[row * axes.length + k] / STEPS));
      const off = Math.abs(one + (other - one) * part - y);
      if (off < away) [best, away] = [row, off];
    }
    if (best >= 0) this.model.send_msg({act: "pick", row: best});
  }

  #send(key) {
    const [low, high] = this.brushed[key];
    if (low <= 0 && high >= 1) this.#clear(key);
    else this.model.send_msg({act: "brush", key, low, high});
  }

  #clear(key) {
    delete this.brushed[key];
    this.draw();
    this.model.send_msg({act: "clear", key});
  }
}

const named = (axis) => folded(`${axis.name}${axis.unit ? `, ${axis.unit}` : ""}`, 15);

function folded(text, most) {
  const lines = [""];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last && last.length + word.length > most) lines.push(word);
    else lines[lines.length - 1] = last ? `${last} ${word}` : word;
  }
  return lines.length > 5 ? [...lines.slice(0, 4), "…"] : lines;
}
