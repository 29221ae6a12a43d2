/** How an adjuster's setting follows wear: between two of its moves it stands still, or slips. */

import {numbers} from "./interpolate.js";

/** One life's adjuster. */
export class Upkeep {
  constructor({moves, settings, slip}) {
    this.moves = numbers(moves);
    this.settings = numbers(settings);
    this.slip = slip;
  }

  /** The setting (rad) at a wear (mm). */
  at(wear) {
    const {moves, settings, slip} = this;
    let [low, high] = [0, moves.length];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (moves[middle] <= wear) low = middle;
      else high = middle;
    }
    return settings[low] - slip * (wear - moves[low]);
  }
}
