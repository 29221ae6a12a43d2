/** How the solids are looked at, beside from where: the drum, the wheel, the cut, how far apart; and the address of it. */

import {CUTS} from "./solid_scene.js";

/** Ways to show the drum, and their words. */
export const DRUMS = {ghost: "see-through", solid: "solid", off: "removed"};

const START = {drum: "ghost", wheel: false, cut: "none", apart: 0};

/** Seen from outside, nothing is open. */
export const OUTSIDE = {drum: "solid", wheel: true, cut: "none", apart: 0};

/** How it is looked at to begin with. */
export function start() {
  return {...START};
}

/** As address parameters, with the viewer's place. */
export function lookText({drum, wheel, cut, apart}, orbit) {
  const parts = [];
  if (drum !== START.drum) parts.push(`vd=${drum}`);
  if (wheel) parts.push("vw=1");
  if (cut !== START.cut) parts.push(`vc=${Object.keys(CUTS).indexOf(cut)}`);
  if (apart > 0) parts.push(`va=${Number(apart.toFixed(3))}`);
  const named = orbit.whole ? orbit.at : -1;
  const place = [orbit.yaw, orbit.pitch, orbit.zoom, orbit.aside, orbit.up].map((one) => Number(one.toFixed(3)));
  if (named !== 0) parts.push(`vo=${named > 0 ? named : place.join("_")}`);
  return parts;
}

/** Take them from address parameters; what is missing or makes no sense is as to begin with. */
export function readLook(given, orbit) {
  const place = (given.get("vo") ?? "0").split("_").map(Number);
  orbit.stand(orbit.views[place[0]] ?? orbit.views[0]);
  if (place.length === 5 && place.every(Number.isFinite)) orbit.take(...place);
  const drum = given.get("vd");
  const apart = Number(given.get("va") ?? 0);
  return {
    drum: drum in DRUMS ? drum : START.drum,
    wheel: given.get("vw") === "1",
    cut: Object.keys(CUTS)[Number(given.get("vc") ?? 0)] ?? START.cut,
    apart: apart >= 0 && apart <= 1 ? apart : START.apart,
  };
}
