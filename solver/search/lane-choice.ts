import { cornerSaving } from '../problem.js';
import type { Band } from './lane-band.js';
import type { Thinning } from './lane-thinning.js';
import { type LaneCosts, type LaneOptions, type LaneSet, laneCosts, laneFamily } from './lanes.js';
import type { ZoneSpace } from './zone-space.js';

/** Rows along x ('rows') or columns along y ('columns') carry the runs. */
export type RunAxis = 'rows' | 'columns';

/** Low or high channels. */
export type End = 'low' | 'high';

/** A way to lay the zone that is worth routing. */
export interface LaneChoice {
  readonly axis: RunAxis;
  readonly main: LaneSet;
  readonly cross: LaneSet;
  readonly minGap: number;
  /** Crossings of its lanes on usable floor. */
  readonly nodes: number;
  /** Expected laid length of the main stretch, mm (before correction by what routes turn out to be). */
  readonly expected: number;
  /** Parities of its lanes (see `ParityClasses`). */
  readonly parity: string;
  /** Where runs lie across the main lanes, to meet a length. */
  readonly band?: Band;
  /** Where fewer lanes lie on one side, to meet a length. */
  readonly thinning?: Thinning;
}

/** Tells choices apart whose lanes lie differently. */
export const lanesName = ({ axis, main, cross, thinning }: LaneChoice): string =>
  [axis, main.lanes, cross.lanes, thinning?.at, thinning?.side, thinning?.lanes].join(' ');

/** Spacing (studs) that runs really need: the rule's least, or what a U-turn needs for its bends. */
export const leastGap = (space: ZoneSpace, minBendRadius: number): number =>
  Math.max(space.setting.spacing.min, Math.ceil((2 * minBendRadius) / space.setting.lattice.pitch - 1e-9));

/** The lanes of one axis: families of sets by number of lanes, one family for each parity wish. */
export interface AxisLanes {
  /** Channels before which the parity of the lanes is varied, ascending. */
  readonly breaks: readonly number[];
  readonly costs: LaneCosts;
  readonly options: LaneOptions;
  readonly plain: readonly (LaneSet | null)[];
  readonly wished: readonly (readonly (LaneSet | null)[])[];
}

/** Most places at which the parity of the lanes before them is varied. */
const MAX_BREAKS = 3;

/** `neededTail`: length of cable (mm) that the buffer must hold for any cable to end in it. */
export function axisLanes(space: ZoneSpace, axis: RunAxis, minGap: number, neededTail: number): AxisLanes {
  const { s, usable, floor, setting, heatRadius } = space;
  const rows = axis === 'rows';
  const count = rows ? s.ny : s.nx;
  const [firstCost, lastCost] = bufferRoom(space, rows ? 'y' : 'x', minGap, neededTail);
  const options = {
    minGap,
    maxGap: Math.max(minGap, Math.min(count - 1, Math.max(setting.spacing.max, minGap) * 4)),
    heatRadius,
    forced: rows ? Math.floor(space.start / s.nx) : space.start % s.nx,
    firstCost,
    lastCost,
  };
  const costs = laneCosts(s, usable, floor, rows ? 'y' : 'x', options);
  const breaks = wallBreaks(costs.length, s.lattice.pitch, options.forced, minGap);
  const wished: (readonly (LaneSet | null)[])[] = [];
  if (breaks.length > 0)
    for (let bits = 0; bits < 1 << breaks.length; bits++)
      wished.push(
        laneFamily(
          costs,
          options,
          breaks.map((at, k) => ({ at, odd: bits & (1 << k) ? 1 : 0 })),
        ),
      );
  return { breaks, costs, options, plain: laneFamily(costs, options), wished };
}

/** The most abrupt places at which the floor gets wider or narrower, and the entry's channel where it lies inside. */
function wallBreaks(lengths: Float64Array, pitch: number, entry: number, minGap: number): number[] {
  const jumps: { at: number; size: number }[] = [];
  for (let c = 1; c < lengths.length; c++) {
    const size = Math.abs(lengths[c] - lengths[c - 1]);
    if (size < 4 * pitch || lengths[c] === 0 || lengths[c - 1] === 0) continue;
    jumps.push({ at: c, size });
  }
  jumps.sort((a, b) => b.size - a.size || a.at - b.at);
  const kept: number[] = [];
  for (const { at } of jumps)
    if (kept.length < MAX_BREAKS && kept.every((k) => Math.abs(k - at) > 2)) kept.push(at);
  const outermost = [lengths.findIndex((l) => l > 0), lengths.findLastIndex((l) => l > 0)];
  if ([...outermost, ...kept].every((k) => Math.abs(k - entry) > 2 * minGap)) kept.push(entry);
  return kept.sort((a, b) => a - b);
}

/** Share of the target area that a lane costs which the buffer needs and has no room for. */
const TAIL_SHARE = 0.04;

/** Cost of an outermost lane so close to a buffer beyond it that too few lanes fit in the buffer, channel by channel. */
function bufferRoom(
  space: ZoneSpace,
  axis: 'x' | 'y',
  minGap: number,
  neededTail: number,
): [Float64Array, Float64Array] {
  const { s, buffer, usable } = space;
  const count = axis === 'y' ? s.ny : s.nx;
  const inBuffer = new Int32Array(count);
  const inMain = new Uint8Array(count);
  const along = new Uint8Array(s.nx + s.ny);
  for (let v = 0; v < buffer.length; v++) {
    const c = axis === 'y' ? Math.floor(v / s.nx) : v % s.nx;
    if (buffer[v]) {
      inBuffer[c]++;
      along[axis === 'y' ? v % s.nx : Math.floor(v / s.nx)] = 1;
    }
    if (usable[v]) inMain[c] = 1;
  }
  const firstCost = new Float64Array(count);
  const lastCost = new Float64Array(count);
  const lowestMain = inMain.indexOf(1);
  const highestMain = inMain.lastIndexOf(1);
  const lowestBuffer = inBuffer.findIndex((nodes) => nodes > 0);
  const highestBuffer = inBuffer.findLastIndex((nodes) => nodes > 0);
  const held = (from: number, to: number) => inBuffer.slice(from, to).reduce((sum, nodes) => sum + nodes, 0);
  // A buffer that lies beside the lanes and only reaches further than they do is entered from their sides.
  const half = held(0, count) / 2;
  const isBelow = lowestMain >= 0 && held(0, lowestMain) > half;
  const isAbove = highestMain >= 0 && held(highestMain + 1, count) > half;
  const { pitch } = space.setting.lattice;
  const laneLength = pitch * along.reduce((sum, there) => sum + there, 0);
  const needed = laneLength > 0 ? Math.ceil(neededTail / laneLength) : 0;
  const roomCost = (lanes: number) =>
    Math.max(0, 2 - lanes) * 4 * pitch ** 2 + Math.max(0, needed - lanes) * TAIL_SHARE * space.floor.total;
  for (let c = 0; c < count; c++) {
    if (isAbove) {
      const room = Math.floor((highestBuffer - c - minGap) / minGap) + 1;
      lastCost[c] = roomCost(room);
    }
    if (isBelow) {
      const room = Math.floor((c - lowestBuffer - minGap) / minGap) + 1;
      firstCost[c] = roomCost(room);
    }
  }
  return [firstCost, lastCost];
}

/** Laid length one could expect of a path that runs all lanes of a set. */
export function expectedLength(space: ZoneSpace, set: LaneSet): number {
  const { pitch } = space.setting.lattice;
  const lanes = set.lanes;
  const over = (lanes[lanes.length - 1] - lanes[0]) * pitch;
  return set.runLength + over - 2 * (lanes.length - 1) * cornerSaving(space.setting.lattice);
}

/** Usable crossings of two lane sets. */
export function crossingCount({ s, usable }: ZoneSpace, rows: LaneSet, columns: LaneSet): number {
  let nodes = 0;
  for (const j of rows.lanes) for (const i of columns.lanes) nodes += usable[j * s.nx + i];
  return nodes;
}
