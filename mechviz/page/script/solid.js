/**
 * The solid view: the brake in space, moved by the same state as the drawing, beside it or in its place. three.js and the
 * surfaces are unpacked when it is first opened.
 */

import {surfaces} from "./glb.js";
import {Glide} from "./glide.js";
import {Orbit, turnTo} from "./orbit.js";
import {PartPanel} from "./part_panel.js";
import {DRUMS, OUTSIDE, lookText, readLook, start} from "./solid_look.js";
import {CUTS, SolidScene} from "./solid_scene.js";
import {SolidNow} from "./solid_now.js";
import {SolidTools} from "./solid_tools.js";
import {Stage, renderer} from "./stage.js";
import {wide} from "./room.js";
import {say} from "./svg.js";
import {Tags} from "./tags.js";
import {tints} from "./tints.js";
import {three, unpack} from "./unpack.js";

const LOOKS = ["drawing", "solid", "both"];
const TO = {drawing: "Drawing", solid: "Solid", both: "Side by side"};
const MISSING = "This browser cannot show the brake as a solid: it has no WebGL 2, or WebGL is switched off. The drawing shows the same motion.";
const GLIDE = 450;
const APART = 1600;

/** A picture narrower than this (pixels) leaves so much of its width to the names. */
const NARROW = 640;
const WORDS = 80;

/** So long (ms) nothing moves before the names are given anew: to find out what is seen takes a few frames' time. */
const STILL = 120;

/** What is lit beside a defect's part, because that one lies inside it. */
const BESIDE = {diaphragm: ["chamber_pressure"]};

/** The solid view of one player. */
export class Solid {
  constructor(player, data, signal) {
    const {root} = player;
    Object.assign(this, {player, root, data, signal});
    this.look = "drawing";
    this.now = start();
    this.glide = new Glide(() => player.shown());
    this.box = root.querySelector("[data-role=solid]");
    this.canvas = this.box.querySelector("canvas");
    this.missing = root.querySelector("[data-role=solid-missing]");
    this.wait = this.box.querySelector("[data-role=solid-wait]");
    this.orbit = new Orbit(this.canvas, data.views, {changed: () => this.#turned(), tapped: (x, y) => this.#tapped(x, y), done: () => player.shown()}, signal);
    this.panel = new PartPanel(this.box.querySelector("[data-role=part]"), () => this.#dressed());
    this.tools = new SolidTools(this.box, this, signal);
    player.on("look", "click", () => this.next(), signal);
    this.watcher = new ResizeObserver(() => this.stage?.resize());
    this.watcher.observe(this.canvas.parentNode);
    this.dresser = new MutationObserver(() => this.#dressed());
    this.dresser.observe(root, {attributes: true, attributeFilter: ["data-theme", "data-names", "data-outside", "data-fault", "data-large", "data-pointed"]});
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.#dressed(), {signal});
    signal.addEventListener("abort", () => this.#leave());
    this.box.solid = this;
    this.named();
    this.tools.show(this.now, this.orbit.at);
  }

  #leave() {
    this.watcher.disconnect();
    this.dresser.disconnect();
    this.glide.stop();
    clearTimeout(this.looking);
    this.scene?.dispose();
    this.stage?.end();
    delete this.box.solid;
  }

  /** Whether solids are seen. */
  get open() {
    return this.look !== "drawing";
  }

  /** Look at the drawing, the solids, or both. */
  show(look) {
    if (look === this.look) return;
    this.look = look;
    this.root.dataset.look = look;
    this.box.hidden = !this.open;
    this.named();
    if (this.open) this.#start();
    this.player.view.resized();
    this.player.shown();
  }

  /** The next way to look at it. Side by side needs a wide screen. */
  next() {
    this.show(this.#following());
  }

  #following() {
    const ways = wide(this.root) ? LOOKS : LOOKS.slice(0, 2);
    return ways[(ways.indexOf(this.look) + 1) % ways.length];
  }

  /** Say on the button what the next look is. */
  named() {
    say(this.root.querySelector("[data-role=look] span"), TO[this.#following()]);
  }

  /** Unpack everything, once. */
  #start() {
    if (this.starting) {
      this.draw();
      return;
    }
    const here = typeof DecompressionStream === "function" ? renderer(this.root.ownerDocument) : null;
    if (!here) {
      this.#cannot();
      return;
    }
    this.wait.hidden = false;
    this.starting = Promise.all([three(this.data.three), unpack(this.data.glb)])
      .then(([module, glb]) => this.signal.aborted || this.#build(module, glb, here))
      .catch((error) => this.#cannot(error));
  }

  #build(module, glb, here) {
    this.stage = new Stage(module, this.canvas, here, (camera, aspect) => this.#before(camera, aspect));
    this.scene = new SolidScene(module, this.stage, this.data, surfaces(glb));
    this.tags = new Tags(this.box.querySelector(".tags"), this.scene.named);
    this.wait.hidden = true;
    this.#tint();
    this.fit();
    this.stage.resize();
    this.draw();
  }

  /** Say that there is nothing to see, and leave the drawing. */
  #cannot(error) {
    if (this.signal.aborted) return;
    if (error) console.warn(`mechviz: no solid view: ${error}`);
    this.wait.hidden = true;
    this.stage?.end();
    this.stage = this.scene = undefined;
    this.show("drawing");
    this.missing.hidden = false;
    say(this.missing.querySelector("p"), MISSING);
    say(this.player.spoken, MISSING);
  }

  /** The player has another brake. */
  fit() {
    this.figures = new SolidNow(this.box, this.root);
    this.scene?.fit(this.player.model, this.player.fitted);
  }

  /** Draw what stands now; a brake that was fitted in this very turn has not been solved yet, and comes with its frame. */
  draw() {
    const {scene, stage, player} = this;
    const {state, travel, section} = player;
    if (!scene || !this.open || !travel.settings) return;
    scene.show(player.scene.picture, state, travel.settings, section?.out ?? 0);
    this.figures.show();
    this.#dress();
    stage.draw();
  }

  /** How it is shown: as set, or closed where all is seen from outside. */
  get shown() {
    return this.root.dataset.outside === "yes" ? OUTSIDE : this.now;
  }

  #dress() {
    const {scene, root, player, colours} = this;
    scene.break(root.dataset.fault === "return-spring-broken");
    const {fault, hidden} = player.modes.now ?? {};
    const lit = fault && !hidden ? [fault.part.replaceAll("-", "_"), ...(BESIDE[fault.part] ?? [])] : player.pointed;
    scene.colour(colours, this.panel.part ? [this.panel.part.name] : lit);
    scene.stand(this.shown);
  }

  #tint() {
    this.colours = tints(this.root, this.data.shares);
    this.stage.ground(this.colours.paper);
  }

  #dressed() {
    if (!this.scene || !this.open) return;
    this.#tint();
    this.#dress();
    this.stage.ask();
  }

  /** The viewer, and the names of what is seen, before each picture. */
  #before(camera, aspect) {
    const {scene, orbit, shown} = this;
    orbit.place(camera, scene.frame(shown), aspect, aspect - this.#taken());
    camera.updateMatrixWorld();
    this.#name();
    clearTimeout(this.looking);
    this.unsettled = true;
    this.looking = setTimeout(() => this.#lookAgain(), STILL);
  }

  /** How much of a narrow picture's width, as a share of its height, the names take on both sides. */
  #taken() {
    const [width, height] = this.stage.size;
    return width < NARROW && this.root.dataset.names === "yes" ? WORDS / height : 0;
  }

  #name() {
    const {stage, tags, root} = this;
    tags.stand(stage.size, (place) => stage.pixel(place), root.dataset.names === "yes" && root.dataset.outside !== "yes");
  }

  /** Nothing has moved for a moment: name what is seen now. */
  #lookAgain() {
    const {stage, scene, tags} = this;
    this.unsettled = false;
    tags.look((place, part) => stage.sees(place, part, scene.parts));
    this.#name();
  }

  #turned() {
    this.tools.show(this.now, this.orbit.at);
    this.stage?.ask();
  }

  /** Set how it is shown: `drum`, `wheel`, `cut`, `apart`. */
  set(what) {
    this.glide.stop();
    this.#take(what);
    this.player.shown();
  }

  #take(what) {
    Object.assign(this.now, what);
    this.tools.show(this.now, this.orbit.at);
    this.#dressed();
  }

  /** Cut the brake; whoever looks at the back of the cut is led to its front. */
  setCut(cut) {
    this.set({cut});
    const plane = CUTS[cut](this.data.space, {open: null});
    if (!plane) return;
    const {yaw, pitch} = this.orbit;
    const eye = [Math.sin(yaw) * Math.cos(pitch), Math.sin(pitch), Math.cos(yaw) * Math.cos(pitch)];
    if (eye[0] * plane[0] + eye[1] * plane[1] + eye[2] * plane[2] < -0.3) return;
    this.#walk({yaw: Math.atan2(-plane[0], -plane[2]) + 0.38, pitch: 0.24, zoom: 1, aside: 0, up: 0});
  }

  /** Stand at a named place. */
  standAt(index) {
    const {yaw, pitch} = this.data.views[index];
    this.#walk({yaw, pitch, zoom: 1, aside: 0, up: 0});
  }

  #walk(to) {
    const {orbit} = this;
    const from = {...to, yaw: orbit.yaw, pitch: orbit.pitch, zoom: orbit.zoom, aside: orbit.aside, up: orbit.up};
    const way = {...to, yaw: from.yaw + turnTo(from.yaw, to.yaw)};
    this.glide.run(GLIDE, (share) => {
      for (const name of Object.keys(from)) orbit[name] = from[name] + share * (way[name] - from[name]);
      if (share === 1) Object.assign(orbit, to);
      this.#turned();
    });
  }

  /** The next of the named places. */
  around() {
    if (this.open) this.standAt((this.orbit.at + 1) % this.data.views.length);
  }

  drum() {
    if (this.open) this.set({drum: after(Object.keys(DRUMS), this.now.drum)});
  }

  wheel() {
    if (this.open) this.set({wheel: !this.now.wheel});
  }

  cut() {
    if (this.open) this.setCut(after(Object.keys(CUTS), this.now.cut));
  }

  /** Take the brake apart, or put it together. */
  apart() {
    if (!this.open) return;
    const [from, to] = [this.now.apart, this.now.apart < 0.5 ? 1 : 0];
    this.glide.run(APART * Math.abs(to - from), (share) => this.#take({apart: from + share * (to - from)}));
  }

  nextPart(way) {
    if (this.scene && this.open) this.panel.next(this.scene.parts.filter((part) => part.faces.visible), way);
  }

  /** Let go of the picked part. Tells whether there was one. */
  letGo() {
    const {part} = this.panel;
    this.panel.pick(null);
    return part !== null;
  }

  #tapped(x, y) {
    if (!this.scene) return;
    const seen = this.scene.parts.filter((part) => part.faces.visible);
    const hits = this.stage.hits(x, y, seen);
    this.panel.pick(hits.find((part) => !part.ghost) ?? hits[0] ?? null);
  }

  /** As address parameters. */
  text() {
    return this.open ? [`v=${this.look}`, ...lookText(this.now, this.orbit)] : [];
  }

  /** Take them from the address. */
  read(given) {
    this.now = readLook(given, this.orbit);
    this.tools.show(this.now, this.orbit.at);
    const look = given.get("v");
    this.show(LOOKS.includes(look) ? look : "drawing");
    this.#dressed();
  }
}

function after(names, name) {
  return names[(names.indexOf(name) + 1) % names.length];
}
