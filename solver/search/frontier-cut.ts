import { type FrontierLayer, hashKey } from './frontier-layer.js';
import type { Remainder } from './frontier-remainder.js';

/** Prunes the states of a step: hopeless ones always, the least promising ones when there are more than allowed. */
export class Selection {
  /** Cheapest estimate among the states discarded for room; Infinity while there was none. */
  lost = Number.POSITIVE_INFINITY;
  private estimates = new Float64Array(1024);
  private scratch = new Float64Array(1024);

  constructor(private readonly maxStates: number) {}

  /** Compacts `layer`; true when the limit (not infeasibility) removed a state. */
  prune(layer: FrontierLayer, remainder: Remainder, limit: number): boolean {
    if (this.estimates.length < layer.count) {
      this.estimates = new Float64Array(layer.count * 2);
      this.scratch = new Float64Array(layer.count * 2);
    }
    const { estimates } = this;
    let limited = false;
    let kept = 0;
    for (let i = 0; i < layer.count; i++) {
      const estimate = layer.costs[i] + remainder.of(layer.keys, i * layer.words, layer.words);
      if (estimate === Number.POSITIVE_INFINITY) continue;
      if (estimate >= limit) {
        limited = true;
        continue;
      }
      layer.move(i, kept);
      estimates[kept++] = estimate;
    }
    layer.count = kept;
    if (kept > this.maxStates) this.cut(layer);
    return limited;
  }

  private cut(layer: FrontierLayer): void {
    const { estimates, scratch, maxStates } = this;
    const count = layer.count;
    for (let i = 0; i < count; i++) scratch[i] = estimates[i];
    const threshold = smallest(scratch, count, maxStates - 1);
    let below = 0;
    for (let i = 0; i < count; i++) if (estimates[i] < threshold) below++;
    // Equal estimates: the places left go to the lowest hashes, which is as good as a fair draw.
    const ties: number[] = [];
    for (let i = 0; i < count; i++) if (estimates[i] === threshold) ties.push(i);
    let last = Number.POSITIVE_INFINITY;
    const wanted = maxStates - below;
    if (ties.length > wanted) {
      for (let k = 0; k < ties.length; k++) {
        scratch[k] = hashKey(layer.keys, ties[k] * layer.words, layer.words);
      }
      last = smallest(scratch, ties.length, wanted - 1);
    }
    let kept = 0;
    for (let i = 0; i < count; i++) {
      const estimate = estimates[i];
      const keep =
        estimate < threshold ||
        (estimate === threshold &&
          kept < maxStates &&
          hashKey(layer.keys, i * layer.words, layer.words) <= last);
      if (!keep) {
        this.lost = Math.min(this.lost, estimate);
        continue;
      }
      layer.move(i, kept++);
    }
    layer.count = kept;
  }
}

/** Value of rank k (from 0) among values[0 .. count); reorders them. */
export function smallest(values: Float64Array, count: number, k: number): number {
  let low = 0;
  let high = count - 1;
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
