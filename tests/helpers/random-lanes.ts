/** Lanes of an axis over channels with made-up cold areas. */
import type { AxisLanes } from '../../solver/search/lane-choice.js';

export interface LanesMadeOf {
  /** A set of lanes, all of them open channels. */
  readonly before: readonly number[];
  /** Channels beyond the last of them. */
  readonly beyond: number;
  /** Cold areas, taken in turn. */
  readonly cold: readonly number[];
  /** A channel that no run can lie on, unless it is in the set or out of range. */
  readonly closed: number;
  /** Breaks, in any order. */
  readonly at: readonly number[];
  readonly minGap: number;
  /** How many gaps from the least on are possible. */
  readonly gaps: number;
  /** Channel of the entry, or -1. */
  readonly forced: number;
}

export function lanesMadeOf({
  before,
  beyond,
  cold,
  closed,
  at,
  minGap,
  gaps,
  forced,
}: LanesMadeOf): AxisLanes {
  const count = before[before.length - 1] + 1 + beyond;
  const lane = new Uint8Array(count).fill(1);
  if (closed < count && !before.includes(closed)) lane[closed] = 0;
  const part = (from: number, n: number) =>
    Float64Array.from({ length: n }, (_, k) => cold[(from + k) % cold.length]);
  return {
    breaks: [...new Set(at)].filter((b) => b < count).sort((a, b) => a - b),
    costs: {
      lane,
      length: part(7, count),
      before: part(0, count),
      after: part(31, count),
      between: part(50, count * gaps),
    },
    options: {
      minGap,
      maxGap: minGap + gaps - 1,
      heatRadius: 45,
      forced,
      firstCost: part(11, count),
      lastCost: part(23, count),
    },
    plain: [],
    wished: [],
  };
}

/** Lanes so many studs apart, from the first on. */
export function lanesApart(first: number, gaps: readonly number[]): number[] {
  const lanes = [first];
  for (const gap of gaps) lanes.push(lanes[lanes.length - 1] + gap);
  return lanes;
}
