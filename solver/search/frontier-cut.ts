import type { FrontierLayer } from './frontier-layer.js';
import { hashKey } from './frontier-layer.js';
import type { Estimate } from './frontier-remainder.js';

/**
 * Share of the places dealt out evenly among the numbers of open pieces of path; the best of all take the rest.
 * States with many open pieces look dear early and pay off late: ranked by cost alone they would die out.
 */
const EVEN_SHARE = 0.6;

/** Prunes the states of a step: hopeless ones always, the least promising ones when there are more than allowed. */
export class Selection {
  /** Cheapest estimate among the states discarded for room; Infinity while there was none. */
  lost = Number.POSITIVE_INFINITY;
  /** True once `limit` (not infeasibility) removed a state. */
  limited = false;
  private estimates = new Float64Array(1024);
  private ranks = new Float64Array(1024);
  private scratch = new Float64Array(1024);
  private pairs = new Uint8Array(1024);
  /** By number of open pieces. */
  private readonly members = new Int32Array(256);
  private mostPairs = 0;
  private readonly limits = new Float64Array(256);

  /** `pairPrice`: what an open piece of path is expected to cost until it is joined, for ranking only. */
  constructor(
    private readonly maxStates: number,
    private readonly pairPrice: number,
  ) {}

  /** Compacts `layer`, leaving out every state whose estimate reaches `limit`. */
  prune(layer: FrontierLayer, remainder: Estimate, limit: number): void {
    if (this.estimates.length < layer.count) {
      this.estimates = new Float64Array(layer.count * 2);
      this.ranks = new Float64Array(layer.count * 2);
      this.scratch = new Float64Array(layer.count * 2);
      this.pairs = new Uint8Array(layer.count * 2);
    }
    this.members.fill(0, 0, this.mostPairs + 1);
    this.mostPairs = 0;
    let kept = 0;
    for (let i = 0; i < layer.count; i++) {
      const rest = remainder.of(layer.keys, i * layer.words, layer.words, layer.pulls[i]);
      const estimate = layer.costs[i] + rest;
      if (estimate === Number.POSITIVE_INFINITY) continue;
      if (estimate >= limit) {
        this.limited = true;
        continue;
      }
      layer.move(i, kept);
      const { pairs } = remainder;
      this.pairs[kept] = pairs;
      this.members[pairs]++;
      if (pairs > this.mostPairs) this.mostPairs = pairs;
      this.ranks[kept] = estimate + this.pairPrice * pairs;
      this.estimates[kept++] = estimate;
    }
    layer.count = kept;
    if (kept > this.maxStates) this.cut(layer);
  }

  private cut(layer: FrontierLayer): void {
    const { estimates, ranks, scratch, maxStates } = this;
    const count = layer.count;
    this.seedPairs(count);
    for (let i = 0; i < count; i++) scratch[i] = ranks[i];
    const threshold = smallest(scratch, 0, count, maxStates - 1);
    let below = 0;
    let ties = 0;
    for (let i = 0; i < count; i++) {
      if (ranks[i] < threshold) below++;
      else if (ranks[i] === threshold) scratch[ties++] = hashKey(layer.keys, i * layer.words, layer.words);
    }
    // Equal ranks: the places left go to the lowest hashes, which is as good as a fair draw.
    const last = smallest(scratch, 0, ties, maxStates - below - 1);
    let kept = 0;
    for (let i = 0; i < count; i++) {
      const keep =
        ranks[i] < threshold ||
        (ranks[i] === threshold &&
          kept < maxStates &&
          hashKey(layer.keys, i * layer.words, layer.words) <= last);
      if (keep) layer.move(i, kept++);
      else if (estimates[i] < this.lost) this.lost = estimates[i];
    }
    layer.count = kept;
  }

  /** Gives the best states of every number of open pieces a rank that is sure to be kept. */
  private seedPairs(count: number): void {
    const { pairs, ranks, scratch, limits, members, mostPairs: most } = this;
    let groups = 0;
    for (let g = 0; g <= most; g++) if (members[g] > 0) groups++;
    const quota = Math.floor((this.maxStates * EVEN_SHARE) / groups);
    if (groups < 2 || quota === 0) return;
    // Ranks sorted into their groups: group g ends where the next begins.
    let sum = 0;
    for (let g = 0; g <= most; g++) {
      sum += members[g];
      members[g] = sum - members[g];
    }
    for (let i = 0; i < count; i++) scratch[members[pairs[i]]++] = ranks[i];
    let from = 0;
    for (let g = 0; g <= most; g++) {
      const size = members[g] - from;
      if (size > 0)
        limits[g] = size <= quota ? Number.POSITIVE_INFINITY : smallest(scratch, from, members[g], quota - 1);
      from = members[g];
      members[g] = quota;
    }
    for (let i = 0; i < count; i++) {
      const g = pairs[i];
      if (ranks[i] > limits[g] || members[g] === 0) continue;
      ranks[i] = Number.NEGATIVE_INFINITY;
      members[g]--;
    }
  }
}

/** Value of rank k (from 0) among values[from .. to); reorders them. */
function smallest(values: Float64Array, from: number, to: number, rank: number): number {
  const k = from + rank;
  let low = from;
  let high = to - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1];
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i <= j) {
        const swap = values[i];
        values[i] = values[j];
        values[j] = swap;
        i++;
        j--;
      }
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else return values[k];
  }
  return values[k];
}
