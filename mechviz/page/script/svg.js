/** Small hands for drawing: elements of SVG and HTML that are made once and changed only where they differ. */

const SVG = "http://www.w3.org/2000/svg";

/** Make an SVG element with attributes inside a parent. */
export function draw(parent, name, attributes = {}) {
  const node = document.createElementNS(SVG, name);
  set(node, attributes);
  parent.append(node);
  return node;
}

/** Set attributes of a node. */
export function set(node, attributes) {
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
}

/** Write a text of an SVG drawing. */
export function write(parent, text, x, y, more = {}) {
  const node = draw(parent, "text", {x, y, class: "mv-label", ...more});
  node.textContent = text;
  return node;
}

/** Change a node's text if it is another one. */
export function say(node, text) {
  if (node.said === text) return;
  node.said = text;
  node.textContent = text;
}

/** Change one attribute if it is another one. */
export function put(node, name, value) {
  const kept = (node.kept ??= {});
  if (kept[name] === value) return;
  kept[name] = value;
  node.setAttribute(name, value);
}

/** Show or hide a node of a drawing. */
export function show(node, shown) {
  put(node, "visibility", shown ? "visible" : "hidden");
}

/** Take a node out of the drawing, or put it back. */
export function take(node, shown) {
  put(node, "display", shown ? "inline" : "none");
}

/** A length or place to a hundredth of a unit. */
export function r2(value) {
  return Math.round(value * 100) / 100;
}

/** Path data through points given as x and y by index. */
export function through(count, x, y) {
  let data = "";
  for (let i = 0; i < count; i += 1) data += `${i ? "L" : "M"}${r2(x(i))} ${r2(y(i))}`;
  return data;
}

/** Path data of an arc round a centre, from one angle to another (rad, counter-clockwise as seen). */
export function arc(cx, cy, radius, start, end) {
  const large = Math.abs(end - start) > Math.PI ? 1 : 0;
  const sweep = end > start ? 0 : 1;
  const [x1, y1] = [cx + radius * Math.cos(start), cy - radius * Math.sin(start)];
  const [x2, y2] = [cx + radius * Math.cos(end), cy - radius * Math.sin(end)];
  return `M${r2(x1)} ${r2(y1)}A${r2(radius)} ${r2(radius)} 0 ${large} ${sweep} ${r2(x2)} ${r2(y2)}`;
}

/** How far a force arrow's tip reaches past its line's end, in a picture 900 high. */
const TIP = 23;

/** A straight arrow that says what pushes what. */
export class Arrow {
  constructor(parent, verb) {
    this.node = draw(parent, "line", {class: `mv-force mv-line-${verb}`, "marker-end": `url(#mv-force-${verb})`});
  }

  /** Stand from a tail to a tip; hidden where that is no length. */
  place(x1, y1, x2, y2, shown) {
    show(this.node, shown);
    if (!shown) return;
    const length = Math.hypot(x2 - x1, y2 - y1);
    const share = Math.max(0, 1 - TIP / length);
    put(this.node, "x1", r2(x1));
    put(this.node, "y1", r2(y1));
    put(this.node, "x2", r2(x1 + share * (x2 - x1)));
    put(this.node, "y2", r2(y1 + share * (y2 - y1)));
  }
}
