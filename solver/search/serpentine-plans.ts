import type { SerpentinePlan } from './serpentine.js';
import type { Shaper } from './shaper.js';

/** The corners of the part of a path that may be laid anew. */
export interface Corners {
  /** Positions of the corners, and of both ends. */
  readonly positions: readonly number[];
  /** For each, how many short pieces between opposite corners end there or before. */
  readonly steps: readonly number[];
}

export function cornersOf(shaper: Shaper): Corners {
  const { path, goal } = shaper;
  const end = shaper.last();
  const positions = [0];
  const steps = [0];
  let side = 0;
  for (let k = 1; k <= end; k++) {
    const turn = path.sideAt(k);
    if (turn === 0 && k < end) continue;
    const before = positions[positions.length - 1];
    const step = turn !== 0 && side !== 0 && turn !== side && k - before < goal.jogStuds;
    positions.push(k);
    steps.push(steps[steps.length - 1] + (step ? 1 : 0));
    side = turn;
  }
  return { positions, steps };
}

/**
 * Serpentines of either axis between the i-th and the j-th corner that bend less than the stretch does now. They begin
 * and end in the rows of those two corners or in the outermost rows of the stretch between them.
 */
export function* serpentinePlans(
  { path }: Shaper,
  { positions, steps }: Corners,
  i: number,
  j: number,
  widest: number,
): Generator<SerpentinePlan> {
  const { nx } = path.s;
  const bends = j - i - 1 + steps[j] - steps[i];
  for (const along of [1, nx]) {
    const row = (n: number): number => {
      const v = path.at(positions[n]);
      return along === 1 ? Math.floor(v / nx) : v % nx;
    };
    const [from, to] = [row(i), row(j)];
    let [low, high] = [Infinity, -Infinity];
    for (let n = i + 1; n < j; n++) {
      low = Math.min(low, row(n));
      high = Math.max(high, row(n));
    }
    for (const first of new Set([from, to, low, high]))
      for (const last of new Set([to, from, low, high])) {
        const legs = (first === from ? 0 : 1) + (last === to ? 0 : 1);
        for (const gaps of divisions(Math.abs(last - first), path.minGap, widest, (bends - legs) / 2))
          for (const way of [1, -1]) yield { along, way, lead: first - from, trail: last - to, gaps };
      }
  }
}

/** Ways to divide a height into at most so many gaps of least..widest studs, the wider ones first or last. */
function divisions(height: number, least: number, widest: number, most: number): number[][] {
  if (height === 0) return most < 0 ? [] : [[]];
  const all: number[][] = [];
  for (let n = Math.ceil(height / widest); n <= Math.min(most, Math.floor(height / least)); n++) {
    const base = Math.floor(height / n);
    const wider = height - n * base;
    const gaps = Array.from({ length: n }, (_, k) => (k < wider ? base + 1 : base));
    all.push(gaps);
    if (wider > 0) all.push([...gaps].reverse());
  }
  return all;
}
