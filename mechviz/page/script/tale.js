/**
 * The prepared story: an adjuster that stops adjusting, told with the brake's own figures.
 *
 * Each step has a title, words (a function of the units), the settings it ends at, and how it gets there: `apply` and
 * `release` move the brake, `wear` and `heat` let a setting walk with the brake held on.
 */

import {stands} from "./notes.js";

const HEALTHY = 12.7;
const BEYOND = 25.4 / 8;

/** The steps for one brake. */
export function tale(model, facts) {
  const told = new Figures(model, facts);
  const {healthy, limit, past, hot} = told;
  return [
    {
      title: "A healthy brake",
      words: (u) => `Air pushes the rod. The rod turns the arm and the cam. The cam spreads the shoes. The linings rub the
        drum. The rod moves ${u.text(told.stroke(healthy), "length")}: ${told.against(healthy)}.`,
      settings: healthy,
      how: "apply",
    },
    {
      title: facts.automatic ? "The adjuster stops adjusting" : "Nobody adjusts it any more",
      words: () => `${facts.automatic ? "The slack adjuster should take up wear, a little at a time. From here on this one takes up nothing."
        : "A manual slack adjuster takes up nothing by itself: somebody has to turn it. From here on nobody does."}
        The driver feels no difference.`,
      settings: healthy,
      how: "release",
    },
    {
      title: "The linings wear",
      words: (u) => `Every stop takes a little lining, and nothing takes up the room it leaves. Only
        ${u.text(healthy.lining - limit.lining, "length")} of lining has gone, and the rod moves
        ${u.text(told.stroke(limit), "length")}: ${told.against(limit)}.`,
      settings: limit,
      how: "wear",
    },
    {
      title: "Past the limit",
      words: (u) => `A little more wear, and the rod moves ${u.text(told.stroke(past), "length")}: ${told.against(past)}.
        The arm now stands ${stands(told.at(past).armAngle)}.`,
      settings: past,
      how: "wear",
    },
    {
      title: "A long hill: the drum heats",
      words: (u) => told.hotWords(u),
      settings: hot,
      how: "heat",
    },
    {
      title: "The force falls away",
      words: (u) => told.forceWords(u),
      settings: hot,
      how: "apply",
    },
    {
      title: "What an inspector sees",
      words: (u) => `From outside, cold again, two things tell it. How far the rod moves, ${u.text(told.stroke(past), "length")},
        ${told.against(past)}. And how the arm stands: ${stands(told.at(past).armAngle)}.`,
      settings: past,
      how: "apply",
      outside: true,
    },
    {
      title: "What to do",
      words: () => `${facts.automatic ? "An automatic adjuster that let it come this far has a cause. Turning it in by hand hides it: find the cause." : "Adjust it, then find out why it was left to go so far."}
        Local codes and licensed practice decide.`,
      settings: past,
      how: "release",
    },
  ];
}

/** The settings of the story, searched so that it comes true on this brake, and its figures. */
class Figures {
  constructor(model, facts) {
    Object.assign(this, {model, facts});
    const temperature = facts.cold;
    const pressure = Math.min(Math.max(model.found.pressure, facts.test[0]), facts.test[1]);
    const lining = Math.min(facts.sizes.newLining, model.liningRange(temperature)[1]);
    const at = {pressure, lining, temperature};
    this.healthy = {...at, setting: this.#setting(at)};
    this.limit = {...this.healthy, lining: this.#liningAt(facts.limit.stroke - 0.02)};
    this.past = {...this.healthy, lining: this.#liningAt(Math.min(facts.limit.stroke + Math.max(BEYOND, 1.2 * facts.open), 0.97 * facts.sizes.ratedStroke))};
    this.hot = {...this.past, temperature: facts.hot};
  }

  at(settings) {
    return this.model.state(settings);
  }

  stroke(settings) {
    return this.at(settings).stroke;
  }

  /** A setting that leaves a healthy stroke, well inside the limit. */
  #setting(at) {
    let free = HEALTHY;
    for (let i = 0; i < 4; i += 1) {
      const setting = this.model.settingForFreeStroke({freeStroke: free, ...at});
      if (this.stroke({...at, setting}) < this.facts.limit.stroke - 1.5 * this.facts.open) return setting;
      free *= 0.6;
    }
    return this.model.settingForFreeStroke({freeStroke: free, ...at});
  }

  /** The lining with which the rod moves so far; the thinnest there is where none does. */
  #liningAt(stroke) {
    let [low, high] = [this.model.liningRange(this.facts.cold)[0], this.healthy.lining];
    for (let i = 0; i < 40; i += 1) {
      const middle = 0.5 * (low + high);
      const now = this.stroke({...this.healthy, lining: middle});
      if (now < stroke) high = middle;
      else low = middle;
    }
    return high;
  }

  /** A stroke against the limit, in words. */
  against(settings) {
    const {limit, open} = this.facts;
    if (!limit.known) return "against which limit, nobody can say before the chamber is named";
    const margin = limit.stroke - this.stroke(settings);
    if (Math.abs(margin) <= open) return "so near the limit that nobody can tell";
    return margin < 0 ? "over the limit" : "inside the limit";
  }

  hotWords(u) {
    const {facts, hot} = this;
    const now = this.at(hot);
    const start = `At ${u.text(facts.hot, "temperature")} the drum has grown away from the linings.`;
    if (now.reason !== 0) return `${start} The rod runs to the end of the chamber and finds nothing to press on.`;
    return `${start} The same brake now needs ${u.text(now.stroke, "length")} of the
      ${u.text(facts.sizes.ratedStroke, "length")} that the chamber has.`;
  }

  forceWords(u) {
    const now = this.at(this.hot);
    const start = "Near its end the diaphragm is stretched and pushes less and less.";
    if (now.reason !== 0) return `${start} Here it has bottomed: no braking force is left, whatever the pressure.`;
    const lost = Math.round(100 * (1 - now.chamberForce / (this.hot.pressure * this.facts.sizes.area)));
    return `${start} With what the return spring takes, ${lost} % of the push is gone, at the same ${u.text(this.hot.pressure, "pressure")}.`;
  }
}
