import { cornerSaving } from '../problem.js';
import type { StudPath } from './stud-path.js';

export interface PolishGoal {
  /** Cold area one turn is worth, mm2. */
  readonly turnWeight: number;
  /** Laid length (mm, rounded corners) of the stretch up to `fixedFrom` that is wanted; outside it costs. */
  readonly shortest: number;
  readonly longest: number;
  /** Cold area one mm of missing or surplus length is worth, mm2. */
  readonly lengthWeight: number;
  /** 1 where changed runs may lie. */
  readonly usable: Uint8Array;
  /** Most moves weighed. */
  readonly maxTrials: number;
}

/** A stretch moved sideways: positions a..b of the path become `walk`. */
interface Move {
  readonly a: number;
  readonly b: number;
  readonly walk: number[];
}

/**
 * Local search on the stud lattice: straight stretches are pushed sideways, whole (runs, U-turn tips, removal of
 * fingers) or in part (new fingers into cold pockets), as long as cold area + turns + missing length get less.
 * Only positions below `fixedFrom` move. Returns the number of moves weighed.
 */
export function polish(path: StudPath, fixedFrom: () => number, goal: PolishGoal): number {
  const { s } = path;
  const saving = cornerSaving(s.lattice);
  const pitch = s.lattice.pitch;
  let trials = 0;
  let laid = laidLength(path, fixedFrom());
  const miss = (length: number) =>
    Math.max(0, goal.shortest - length, length - goal.longest) * goal.lengthWeight;

  const attempt = (move: Move | null): boolean => {
    if (!move || move.b > fixedFrom() || move.a < 0) return false;
    trials++;
    const { a, b, walk } = move;
    for (let k = 1; k < walk.length - 1; k++) if (!goal.usable[walk[k]]) return false;
    const studs = walk.length - 1 - (b - a);
    const turns = path.turnChange(a, b, walk);
    const length = laid + studs * pitch - turns * saving;
    const fixed = turns * goal.turnWeight + miss(length) - miss(laid);
    // The most that a changed stretch can newly heat bounds what the move can gain.
    const atMost = Math.min(path.cold, (walk.length + 6) * pitch * pitch * 3);
    if (fixed - atMost >= -1e-6 || !path.legal(a, b, walk)) return false;
    if (fixed + path.coldChange(a, b, walk) >= -1e-6) return false;
    path.replace(a, b, walk);
    laid = length;
    return true;
  };

  for (let improved = true; improved && trials < goal.maxTrials; ) {
    improved = false;
    for (let k = 0; k < fixedFrom() && trials < goal.maxTrials; ) {
      let end = k + 1;
      while (end < fixedFrom() && !path.isCorner(end)) end++;
      let moved = false;
      const along = path.at(k + 1) - path.at(k);
      const normal = Math.abs(along) === 1 ? s.nx : 1;
      for (const n of [normal, -normal]) {
        const legs = [legLength(path, k, -1, n), legLength(path, end, 1, n)];
        for (const d of new Set([1, 2, 3, ...legs.filter((leg) => leg > 0 && leg <= 8)]))
          if (attempt(sideways(path, k, end, n, d))) {
            moved = true;
            break;
          }
        if (moved) break;
        for (let d = path.minGap; d <= path.minGap + 4 && !moved; d++)
          for (const [p, q] of coldStretches(path, k, end, n, d, goal))
            if (attempt(sideways(path, p, q, n, d))) {
              moved = true;
              break;
            }
        if (moved) break;
      }
      if (moved) {
        improved = true;
        k = Math.max(0, k - 1);
        while (k > 0 && !path.isCorner(k)) k--;
      } else k = end;
    }
  }
  return trials;
}

/** Laid length of positions 0..to, a corner's saving counted once it is passed. */
export function laidLength(path: StudPath, to: number): number {
  return to * path.s.lattice.pitch - path.turns(1, to - 1) * cornerSaving(path.s.lattice);
}

/** Studs the path runs straight along `n` beside position k, going by `step` along the path. */
function legLength(path: StudPath, k: number, step: 1 | -1, n: number): number {
  let r = 0;
  while (
    k + step * (r + 1) >= 0 &&
    k + step * (r + 1) < path.length &&
    path.at(k + step * (r + 1)) === path.at(k) + (r + 1) * n
  )
    r++;
  return r;
}

/** Positions p..q (on one straight stretch) pushed by d studs along n; legs that point that way are taken in. */
function sideways(path: StudPath, p: number, q: number, n: number, d: number): Move | null {
  const back = Math.min(d, legLength(path, p, -1, n));
  const ahead = Math.min(d, legLength(path, q, 1, n));
  const a = p - back;
  const b = q + ahead;
  const from = path.at(p);
  const to = path.at(q);
  const along = from === to ? 0 : (to - from) / (q - p);
  const limit = path.s.free.length;
  if (from + d * n < 0 || from + d * n >= limit) return null;
  const walk: number[] = [];
  for (let r = back; r < d; r++) walk.push(from + r * n);
  for (let r = 0; r <= q - p; r++) walk.push(from + d * n + r * along);
  for (let r = d - 1; r >= ahead; r--) walk.push(to + r * n);
  return { a, b, walk };
}

/** Parts of a straight stretch beside which a finger d studs deep would heat most: at most the best one. */
function coldStretches(
  path: StudPath,
  from: number,
  to: number,
  n: number,
  d: number,
  goal: PolishGoal,
): [number, number][] {
  if (to - from < path.minGap) return [];
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
    const gain = path.coldBeside(w);
    if (first < 0 || sum < 0) {
      first = k;
      sum = 0;
    }
    sum += gain - (s.lattice.pitch * s.lattice.pitch) / 20;
    if (k - first >= path.minGap && sum > best) {
      best = sum;
      found = [first, k];
    }
  }
  return found ? [found] : [];
}
