import { measureRoute } from '../model/grid-cost.js';
import type { GridRoute, GridTask } from '../model/grid-task.js';
import { cornerSaving } from '../problem.js';
import { edgePotential, potentialBound } from './frontier-potential.js';
import { sweepView } from './frontier-view.js';
import { type AxisLanes, crossingCount, type End, type LaneChoice, type RunAxis } from './lane-choice.js';
import type { LaneGrid } from './lane-grid.js';
import type { ZoneSpace } from './zone-space.js';

/** Channels from .. to of the cross lanes between which runs lie along the cross lanes instead. */
export interface Band {
  readonly from: number;
  readonly to: number;
}

/** The end of the main lanes at which the buffer lies, if it lies across them. */
export type BufferEnd = End | null;

/** Share of the floor's extent, from the end, in which all of the buffer must lie to count as across. */
const END_SHARE = 0.2;

/** Largest share of the cross lanes' extent that a band may take. */
const MOST_SHARE = 0.5;

/** Rounds of the ascent behind the bound of a grid with a band. */
const ROUNDS = 60;

export function bufferEnd({ s, usable, buffer }: ZoneSpace, axis: RunAxis): BufferEnd {
  const along = (v: number) => (axis === 'rows' ? v % s.nx : Math.floor(v / s.nx));
  const extent = (nodes: Uint8Array): [number, number] => {
    let [low, high] = [Infinity, -Infinity];
    for (let v = 0; v < nodes.length; v++) {
      if (!nodes[v]) continue;
      low = Math.min(low, along(v));
      high = Math.max(high, along(v));
    }
    return [low, high];
  };
  const [first, last] = extent(usable);
  const [low, high] = extent(buffer);
  const margin = END_SHARE * (last - first);
  if (low >= last - margin) return 'high';
  return high <= first + margin ? 'low' : null;
}

/**
 * By how much (mm) a band makes a route longer (negative: shorter) for each of its lanes, when they lie `gap` studs
 * apart and the main lanes would otherwise run on through them.
 */
export function gainOfLane({ main }: LaneChoice, { setting }: ZoneSpace, gap: number): number {
  const { lanes } = main;
  const { lattice } = setting;
  const across = (lanes[lanes.length - 1] - lanes[0]) * lattice.pitch;
  return across + gap * lattice.pitch * (1 - lanes.length) - 2 * cornerSaving(lattice);
}

/** Lanes of a band that makes a route about `extra` mm longer, and the studs between them; null where none does. */
export function bandFor(
  choice: LaneChoice,
  space: ZoneSpace,
  extra: number,
): { readonly count: number; readonly gap: number } | null {
  const { lanes } = choice.cross;
  const gap = extra > 0 ? choice.minGap : Math.max(choice.minGap, space.setting.spacing.max);
  const gain = gainOfLane(choice, space, gap);
  const count = Math.max(2, Math.round(extra / gain));
  if (!(extra * gain > 0) || count * gap > MOST_SHARE * (lanes[lanes.length - 1] - lanes[0])) return null;
  return { count, gap };
}

/** The choice with a band of so many lanes before the buffer; null where that leaves no lane at the entry. */
export function withBand(
  choice: LaneChoice,
  space: ZoneSpace,
  cross: AxisLanes,
  end: End,
  { count, gap }: { readonly count: number; readonly gap: number },
): LaneChoice | null {
  const sign = end === 'high' ? 1 : -1;
  const outward = Array.from(choice.cross.lanes).sort((a, b) => sign * (a - b));
  const outermost = outward[outward.length - 1];
  const inner = outermost - sign * count * gap;
  const kept = outward.filter((c) => sign * (inner - c) >= choice.minGap);
  const last = kept[kept.length - 1];
  const most = Math.max(choice.minGap, space.setting.spacing.max);
  if (last === undefined) return null;
  if (sign * (inner - last) > most) {
    if (sign * (inner - last) - most < choice.minGap) kept.pop();
    kept.push(inner - sign * most);
  }
  const inBand = Array.from({ length: count + 1 }, (_, k) => inner + sign * k * gap);
  const lanes = Int32Array.from([...kept, ...inBand]).sort();
  if (!lanes.includes(cross.options.forced) || lanes.some((c) => !cross.costs.lane[c])) return null;
  const banded = { ...choice.cross, lanes };
  const [rows, columns] = choice.axis === 'rows' ? [choice.main, banded] : [banded, choice.main];
  return {
    ...choice,
    cross: banded,
    nodes: crossingCount(space, rows, columns),
    expected: choice.expected + count * gainOfLane(choice, space, gap),
    band: { from: Math.min(inner, outermost), to: Math.max(inner, outermost) },
  };
}

/** The task of a grid with a price on pieces along the main lanes inside the band. */
export function bandTask(grid: LaneGrid, { axis, band }: LaneChoice, turnWeight: number): GridTask {
  const { task } = grid;
  if (!band) return task;
  const rows = axis === 'rows';
  const channels = rows ? grid.columns : grid.rows;
  const inside = (k: number) => channels[k] >= band.from && channels[k + 1] <= band.to;
  const index = (v: number) => (rows ? v % task.nx : Math.floor(v / task.nx));
  const along = (rows ? task.eastCost : task.northCost).map((cost, v) =>
    inside(index(v)) ? turnWeight : cost,
  );
  const across = (rows ? task.northCost : task.eastCost).map((cost, v) => {
    const k = index(v);
    return channels[k] >= band.from && channels[k] <= band.to ? 0 : cost;
  });
  return { ...task, eastCost: rows ? along : across, northCost: rows ? across : along };
}

/** A route found with a band's prices, at what it costs without them. */
export function withoutPrices(grid: LaneGrid, route: GridRoute): GridRoute {
  const measure = measureRoute(grid.task, route.nodes);
  const bound = potentialBound(edgePotential(sweepView(grid.task, 'auto', false), ROUNDS));
  return { ...route, ...measure, bound: Math.min(bound, measure.cost), proven: false };
}
