import { legLength, type Shaper, sideways } from './shaper.js';

/** A move must gain at least this much, mm2. */
const LEAST_GAIN = 1e-3;

/** Deepest finger tried, studs beyond the least gap. */
const FINGER_DEPTH = 4;

/**
 * Descent on the stud lattice: straight stretches are pushed sideways, whole (runs, U-turn tips, removal of fingers)
 * or in part (new fingers into cold pockets), as long as cold area + turns + missing length get less.
 */
export function polish(shaper: Shaper, maxTrials: number): void {
  const { path } = shaper;
  const stop = shaper.trials + maxTrials;
  for (let improved = true; improved && shaper.trials < stop; ) {
    improved = false;
    for (let k = 0; k < shaper.last() && shaper.trials < stop; ) {
      let end = k + 1;
      while (end < shaper.last() && !path.isCorner(end)) end++;
      if (improveStretch(shaper, k, end)) {
        improved = true;
        k = Math.max(0, k - 1);
        while (k > 0 && !path.isCorner(k)) k--;
      } else k = end;
    }
  }
}

/** One gaining move of the straight stretch between positions k and end, if there is one. */
function improveStretch(shaper: Shaper, k: number, end: number): boolean {
  const { path } = shaper;
  const normal = Math.abs(path.at(k + 1) - path.at(k)) === 1 ? path.s.nx : 1;
  for (const n of [normal, -normal]) {
    const legs = [legLength(path, k, -1, n), legLength(path, end, 1, n)];
    for (const d of new Set([1, 2, 3, ...legs.filter((leg) => leg > 0 && leg <= 8)]))
      if (shaper.attempt(sideways(path, k, end, n, d), -LEAST_GAIN)) return true;
    for (let d = path.minGap; d <= path.minGap + FINGER_DEPTH; d++) {
      const found = coldStretch(shaper, k, end, n, d);
      if (found && shaper.attempt(sideways(path, found[0], found[1], n, d), -LEAST_GAIN)) return true;
    }
  }
  return false;
}

/** The part of a straight stretch beside which a finger d studs deep would heat most. */
function coldStretch(
  { path, goal }: Shaper,
  from: number,
  to: number,
  n: number,
  d: number,
): [number, number] | null {
  if (to - from < path.minGap) return null;
  const { s } = path;
  let best = 2 * goal.turnWeight;
  let found: [number, number] | null = null;
  let sum = 0;
  let first = -1;
  for (let k = from; k <= to; k++) {
    const w = path.at(k) + d * n;
    const open = w >= 0 && w < s.free.length && s.free[w] && goal.usable[w] && path.positionOf(w) < 0;
    if (!open) {
      first = -1;
      sum = 0;
      continue;
    }
    if (first < 0 || sum < 0) {
      first = k;
      sum = 0;
    }
    sum += path.coldBeside(w) - (s.lattice.pitch * s.lattice.pitch) / 20;
    if (k - first >= path.minGap && sum > best) {
      best = sum;
      found = [first, k];
    }
  }
  return found;
}
