import { type FrontierLayer, hashKey, pairsIn } from './frontier-layer.js';
import type { Estimate } from './frontier-remainder.js';

/**
 * Share of the places dealt out evenly among the numbers of open pieces of path; the best of all take the rest.
 * States with many open pieces look dear early and pay off late: ranked by cost alone they would die out.
 */
const EVEN_SHARE = 0.6;

/** Places that the arrays of a selection have at first. */
const PLACES = 128;

/** Prunes the states of a step: hopeless ones always, the least promising ones when there are more than allowed. */
export class Selection {
  /** Cheapest estimate among the states discarded for room; Infinity while there was none. */
  lost = Number.POSITIVE_INFINITY;
  /** True once `limit` (not infeasibility) removed a state. */
  limited = false;
  /** Of the states that are not hopeless, in the layer's order: place in the layer, estimate, rank, open pieces. */
  private entries = new Int32Array(PLACES);
  private estimates = new Float64Array(PLACES);
  private ranks = new Float64Array(PLACES);
  private pairs = new Uint8Array(PLACES);
  private scratch = new Float64Array(PLACES);
  /** By number of open pieces. */
  private readonly members = new Int32Array(256);
  private readonly limits = new Float64Array(256);
  private mostPairs = 0;

  /** `pairPrice`: what an open piece of path is expected to cost until it is joined, for ranking only. */
  constructor(
    private readonly maxStates: number,
    private readonly pairPrice: number,
  ) {}

  /** Compacts `layer`, leaving out every state whose estimate reaches `limit`. */
  prune(layer: FrontierLayer, remainder: Estimate, limit: number): void {
    if (this.entries.length < layer.count) this.makeRoom(layer.count * 2);
    const { entries, estimates, ranks, members, pairPrice } = this;
    const { censuses, costs } = layer;
    members.fill(0, 0, this.mostPairs + 1);
    let most = 0;
    let count = 0;
    for (let i = 0; i < layer.count; i++) {
      const estimate = costs[i] + remainder.of(layer, i);
      if (estimate === Number.POSITIVE_INFINITY) continue;
      if (estimate >= limit) {
        this.limited = true;
        continue;
      }
      const pairs = pairsIn(censuses[i]);
      this.pairs[count] = pairs;
      members[pairs]++;
      if (pairs > most) most = pairs;
      entries[count] = i;
      estimates[count] = estimate;
      ranks[count++] = estimate + pairPrice * pairs;
    }
    this.mostPairs = most;
    if (count > this.maxStates) this.cut(layer, count);
    else if (count < layer.count) {
      for (let k = 0; k < count; k++) layer.move(entries[k], k);
      layer.count = count;
    }
  }

  private cut(layer: FrontierLayer, count: number): void {
    const { entries, estimates, ranks, scratch, maxStates } = this;
    this.seedPairs(count);
    for (let k = 0; k < count; k++) scratch[k] = ranks[k];
    const threshold = smallest(scratch, 0, count, maxStates - 1);
    const hashOf = (k: number) => hashKey(layer.keys, entries[k] * layer.words, layer.words);
    let below = 0;
    let ties = 0;
    for (let k = 0; k < count; k++) {
      if (ranks[k] < threshold) below++;
      else if (ranks[k] === threshold) scratch[ties++] = hashOf(k);
    }
    // Equal ranks: the places left go to the lowest hashes, which is as good as a fair draw.
    const last =
      ties === maxStates - below
        ? Number.POSITIVE_INFINITY
        : smallest(scratch, 0, ties, maxStates - below - 1);
    let kept = 0;
    for (let k = 0; k < count; k++) {
      const rank = ranks[k];
      const keep =
        rank < threshold ||
        (rank === threshold && kept < maxStates && (last === Infinity || hashOf(k) <= last));
      if (keep) layer.move(entries[k], kept++);
      else if (estimates[k] < this.lost) this.lost = estimates[k];
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
    for (let k = 0; k < count; k++) scratch[members[pairs[k]]++] = ranks[k];
    let from = 0;
    for (let g = 0; g <= most; g++) {
      const size = members[g] - from;
      if (size > 0)
        limits[g] = size <= quota ? Number.POSITIVE_INFINITY : smallest(scratch, from, members[g], quota - 1);
      from = members[g];
      members[g] = quota;
    }
    for (let k = 0; k < count; k++) {
      const g = pairs[k];
      if (ranks[k] > limits[g] || members[g] === 0) continue;
      ranks[k] = Number.NEGATIVE_INFINITY;
      members[g]--;
    }
  }

  private makeRoom(places: number): void {
    this.entries = new Int32Array(places);
    this.estimates = new Float64Array(places);
    this.ranks = new Float64Array(places);
    this.pairs = new Uint8Array(places);
    this.scratch = new Float64Array(places);
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
