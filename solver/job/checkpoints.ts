/** How many runs may lie between two checkpoints. 3 to 5: common practice, no source. */
export interface CheckpointSpan {
  readonly least: number;
  readonly most: number;
}

export const CHECKPOINT_SPAN: CheckpointSpan = { least: 3, most: 5 };

/**
 * Numbers of the runs after which the mark is read: `least` to `most` runs apart, at most `most` runs before the
 * end, and as even in cable as these allow (least sum of squares about the mean). `used` is the cable used at the end
 * of each run. Fewer than least + 1 runs need none.
 */
export function checkpointRuns(used: readonly number[], span: CheckpointSpan): readonly number[] {
  const n = used.length;
  if (n <= span.least) return [];
  const mean = (used[n - 1] / n) * ((span.least + span.most) / 2);
  const cost = new Array<number>(n + 1).fill(Number.POSITIVE_INFINITY);
  const before = new Array<number>(n + 1).fill(0);
  cost[0] = 0;
  const at = (k: number): number => (k === 0 ? 0 : used[k - 1]);
  for (let k = 1; k < n; k += 1)
    for (let gap = span.least; gap <= span.most && gap <= k; gap += 1) {
      const sum = cost[k - gap] + (at(k) - at(k - gap) - mean) ** 2;
      if (sum < cost[k]) {
        cost[k] = sum;
        before[k] = k - gap;
      }
    }
  let last = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = Math.max(1, n - span.most); k < n; k += 1) {
    const sum = cost[k] + (at(n) - at(k) - mean) ** 2;
    if (sum < least) {
      least = sum;
      last = k;
    }
  }
  const chosen: number[] = [];
  for (let k = last; k > 0; k = before[k]) chosen.push(k);
  return chosen.reverse();
}
