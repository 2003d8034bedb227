import type { FloorRaster } from '../lattice/floor-raster.js';
import type { StudLattice } from '../lattice/stud-lattice.js';

/** A set of parallel channels that runs may lie on, with the target area (mm2) it leaves cold if all are run. */
export interface LaneSet {
  /** Channel numbers, ascending: rows j for axis 'y', columns i for axis 'x'. */
  readonly lanes: Int32Array;
  readonly cold: number;
  /** Total length of the lanes inside the usable nodes, mm. */
  readonly runLength: number;
}

export interface LaneOptions {
  readonly minGap: number;
  /** Largest gap tried; gaps above the target leave a cold strip, which is charged. */
  readonly maxGap: number;
  readonly heatRadius: number;
  /** Channel that must be among the lanes (the entry's), or -1. */
  readonly forced: number;
  /** Extra cost (mm2) when channel c is the first or the last lane. */
  readonly firstCost: Float64Array;
  readonly lastCost: Float64Array;
}

/** Wish that the number of lanes below channel `at` be odd (1) or even (0). */
export interface ParityWish {
  readonly at: number;
  readonly odd: 0 | 1;
}

/** What each pair of neighbouring lanes leaves cold; worked out once per axis and shared by all wishes. */
export type LaneCosts = ReturnType<typeof laneCosts>;

/**
 * For every number of lanes the set that leaves the least target area cold, by dynamic programming over the channels:
 * cold area between neighbouring lanes depends on that pair alone.
 * Result index = number of lanes; null where that number is impossible. Parity wishes restrict the sets: a serpentine
 * gets past a place where walls begin only with the right parity of lanes before it.
 */
export function laneFamily(
  pairs: LaneCosts,
  options: LaneOptions,
  wishes: readonly ParityWish[] = [],
): (LaneSet | null)[] {
  const count = pairs.lane.length;
  const { minGap, maxGap, forced } = options;
  const most = Math.floor((count - 1) / minGap) + 1;
  const gaps = maxGap - minGap + 1;
  const best = new Float64Array((most + 1) * count).fill(Infinity);
  const from = new Int16Array((most + 1) * count).fill(-1);
  for (let c = 0; c < count; c++)
    if (pairs.lane[c] && (forced < 0 || c <= forced) && wishes.every((w) => w.at > c || w.odd === 0))
      best[count + c] = pairs.before[c] + options.firstCost[c];
  const steps = [allowedSteps(pairs, options, wishes, 0), allowedSteps(pairs, options, wishes, 1)];
  for (let k = 2; k <= most; k++) {
    const step = steps[(k - 1) % 2];
    const before = (k - 1) * count;
    for (let c = (k - 1) * minGap; c < count; c++) {
      let least = Infinity;
      let lane = -1;
      for (let g = Math.min(maxGap, c); g >= minGap; g--) {
        const cost = best[before + c - g] + step[c * gaps + g - minGap];
        if (cost < least - 1e-6) {
          least = cost;
          lane = c - g;
        }
      }
      best[k * count + c] = least;
      from[k * count + c] = lane;
    }
  }
  const family: (LaneSet | null)[] = [null];
  for (let k = 1; k <= most; k++) {
    let end = -1;
    let least = Infinity;
    for (let c = 0; c < count; c++) {
      if ((forced >= 0 && c < forced) || wishes.some((w) => c < w.at && k % 2 !== w.odd)) continue;
      const cost = best[k * count + c] + pairs.after[c] + options.lastCost[c];
      if (cost < least - 1e-6) {
        least = cost;
        end = c;
      }
    }
    if (end < 0) {
      family.push(null);
      continue;
    }
    const lanes = new Int32Array(k);
    let runLength = 0;
    for (let n = k, c = end; n >= 1; c = from[n * count + c], n--) {
      lanes[n - 1] = c;
      runLength += pairs.length[c];
    }
    family.push({ lanes, cold: least, runLength });
  }
  return family;
}

/**
 * What lane c may cost after a lane g studs below it, at [c * gaps + g - minGap], where an even (0) or odd (1) number of
 * lanes lies below c; Infinity where it may not follow.
 */
function allowedSteps(
  { lane, between }: LaneCosts,
  { minGap, maxGap, forced }: LaneOptions,
  wishes: readonly ParityWish[],
  odd: 0 | 1,
): Float64Array {
  const gaps = maxGap - minGap + 1;
  const steps = new Float64Array(lane.length * gaps).fill(Infinity);
  for (let c = 0; c < lane.length; c++)
    for (let g = minGap; lane[c] && g <= Math.min(maxGap, c); g++) {
      const p = c - g;
      if (forced > p && forced < c) continue;
      if (wishes.some((w) => p < w.at && w.at <= c && odd !== w.odd)) continue;
      steps[c * gaps + g - minGap] = between[p * gaps + g - minGap];
    }
  return steps;
}

/** `axis` 'y' gives rows, 'x' gives columns. Cold area before the first, between neighbouring, and after the last lane, for every channel and gap. */
export function laneCosts(
  s: StudLattice,
  usable: Uint8Array,
  floor: FloorRaster,
  axis: 'x' | 'y',
  { minGap, maxGap, heatRadius }: Pick<LaneOptions, 'minGap' | 'maxGap' | 'heatRadius'>,
) {
  const rows = axis === 'y';
  const count = rows ? s.ny : s.nx;
  const other = rows ? s.nx : s.ny;
  const { per, pad, width, height, weight } = floor;
  const size = s.lattice.pitch / per;
  const deep = rows ? height : width;
  const wide = rows ? width : height;
  const reach = Math.round(heatRadius / size);
  // sums[x * (deep + 1) + y]: weight of column x below pixel y, seen along the axis.
  const sums = new Float64Array(wide * (deep + 1));
  for (let x = 0; x < wide; x++)
    for (let y = 0; y < deep; y++)
      sums[x * (deep + 1) + y + 1] = sums[x * (deep + 1) + y] + weight[rows ? y * width + x : x * width + y];
  // open[c * wide + x]: channel c can be run at pixel column x.
  const open = new Uint8Array(count * wide);
  const lane = new Uint8Array(count);
  const length = new Float64Array(count);
  for (let c = 0; c < count; c++)
    for (let o = 0; o < other; o++) {
      if (!usable[rows ? c * s.nx + o : o * s.nx + c]) continue;
      lane[c] = 1;
      const next = o + 1 < other && usable[rows ? c * s.nx + o + 1 : (o + 1) * s.nx + c];
      if (next) length[c] += s.lattice.pitch;
      // A run heats past its own ends, so a node opens half a heat radius of floor on either side.
      const x0 = Math.max(0, pad + o * per - reach);
      const x1 = Math.min(wide, pad + o * per + reach);
      for (let x = x0; x < x1; x++) open[c * wide + x] = 1;
    }
  const pixel = (c: number) => pad + c * per;
  const cold = (lower: number, upper: number): number => {
    const base = lower < 0 ? 0 : pixel(lower);
    const top = upper >= count ? deep : pixel(upper);
    let sum = 0;
    for (let x = 0; x < wide; x++) {
      const a = lower >= 0 && open[lower * wide + x] ? base + reach : base;
      const b = upper < count && open[upper * wide + x] ? top - reach : top;
      if (b > a) sum += sums[x * (deep + 1) + b] - sums[x * (deep + 1) + a];
    }
    return sum;
  };
  const gaps = maxGap - minGap + 1;
  const before = new Float64Array(count);
  const after = new Float64Array(count);
  const between = new Float64Array(count * gaps).fill(Infinity);
  for (let c = 0; c < count; c++) {
    if (!lane[c]) continue;
    before[c] = cold(-1, c);
    after[c] = cold(c, count);
    for (let g = minGap; g <= maxGap && c + g < count; g++)
      if (lane[c + g]) between[c * gaps + g - minGap] = cold(c, c + g);
  }
  return { lane, length, before, after, between };
}
