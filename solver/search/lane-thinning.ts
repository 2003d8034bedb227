import { cornerSaving } from '../problem.js';
import { type AxisLanes, type End, expectedLength, type LaneChoice } from './lane-choice.js';
import { UNEVEN } from './lane-shift.js';
import type { LaneSet } from './lanes.js';
import type { ZoneSpace } from './zone-space.js';

/** From a cross lane on, fewer and wider lanes lie in place of some main lanes, so that routes get shorter. */
export interface Thinning {
  /** Index of the first cross lane above the change. */
  readonly at: number;
  /** Side of the change on which fewer lanes lie. */
  readonly side: End;
  /** The main lanes there by index, -1 where one is missing. */
  readonly lanes: Int32Array;
}

/** Main lanes before and behind a change: alike but for a block at one edge, which has two lanes less behind it. */
export interface ThinLanes {
  readonly full: LaneSet;
  /** As long as `full`, -1 for the two lanes that are missing. */
  readonly few: Int32Array;
  /** First and last index of `full` inside the block. */
  readonly block: readonly [number, number];
  /** Turns that the lanes ending at the change add. */
  readonly turns: number;
  /** Cold floor with the few lanes all over, mm2. */
  readonly fewCold: number;
}

/**
 * For a set of n lanes the n and the n - 2 lanes that together leave least cold floor and take fewest turns, alike but
 * for a block at the low or high edge, at most `widest` studs apart, by dynamic programming: lanes in common, then either
 * chain up to the edge. The lanes below each break are odd or even in number as in the set. Null where there are none.
 */
export function thinLanes(
  { costs, options, breaks }: AxisLanes,
  set: LaneSet,
  edge: End,
  widest: number,
  turnWeight: number,
): ThinLanes | null {
  const count = costs.lane.length;
  const n = set.lanes.length;
  const { minGap, maxGap } = options;
  const gaps = maxGap - minGap + 1;
  // Channels are counted towards the block.
  const low = edge === 'low';
  const real = (c: number) => (low ? count - 1 - c : c);
  const forced = options.forced < 0 ? -1 : real(options.forced);
  const between = (p: number, c: number) =>
    costs.between[(low ? count - 1 - c : p) * gaps + c - p - minGap] + UNEVEN * (c - p) ** 2;
  const first = (c: number) =>
    low ? costs.after[real(c)] + options.lastCost[real(c)] : costs.before[c] + options.firstCost[c];
  const last = (c: number) =>
    low ? costs.before[real(c)] + options.firstCost[real(c)] : costs.after[c] + options.lastCost[c];
  const wishes = breaks.map((at) => {
    const below = set.lanes.filter((c) => c < at).length;
    return low ? { at: count - at, odd: (n - below) % 2 } : { at, odd: below % 2 };
  });
  /** Whether lanes p and c may follow each other when so many lanes lie up to p; n and n - 2 are of one parity. */
  const follows = (p: number, c: number, upTo: number) =>
    !(forced > p && forced < c) && wishes.every((w) => !(p < w.at && w.at <= c) || upTo % 2 === w.odd);
  const size = (n + 1) * count;
  // common[k][c]: k lanes, the last of them c. rest[k][c]: k more lanes beyond c.
  const common = new Float64Array(size).fill(Infinity);
  const from = new Int16Array(size).fill(-1);
  const rest = new Float64Array(size).fill(Infinity);
  const to = new Int16Array(size).fill(-1);
  for (let c = 0; c < count; c++) {
    if (!costs.lane[real(c)]) continue;
    if (forced < 0 || c <= forced)
      if (wishes.every((w) => w.at > c || w.odd === 0)) common[count + c] = first(c);
    if (forced < 0 || c >= forced) if (wishes.every((w) => w.at <= c || n % 2 === w.odd)) rest[c] = last(c);
  }
  // steps[upTo % 2][c * wide + g - minGap]: what lane c costs behind one g studs before it.
  const wide = widest - minGap + 1;
  const steps = [0, 1].map((upTo) => {
    const allowed = new Float64Array(count * wide).fill(Infinity);
    for (let c = minGap; c < count; c++)
      for (let g = minGap; costs.lane[real(c)] && g <= widest && g <= c; g++)
        if (follows(c - g, c, upTo)) allowed[c * wide + g - minGap] = between(c - g, c);
    return allowed;
  });
  for (let k = 2; k <= n; k++) {
    const onward = steps[(k - 1) % 2];
    // One lane more beyond p: n - k + 1 lanes lie up to p.
    const back = steps[(n - k + 1) % 2];
    const [before, beyond] = [(k - 1) * count, (k - 2) * count];
    for (let c = minGap; c < count; c++) {
      const further = rest[beyond + c];
      let least = Infinity;
      let lane = -1;
      for (let g = minGap; g <= widest && g <= c; g++) {
        const p = c - g;
        const step = c * wide + g - minGap;
        const cost = common[before + p] + onward[step];
        if (cost < least) {
          least = cost;
          lane = p;
        }
        const onto = further + back[step];
        if (onto < rest[before + p]) {
          rest[before + p] = onto;
          to[before + p] = c;
        }
      }
      common[k * count + c] = least;
      from[k * count + c] = lane;
    }
  }
  let best: { p: number; c: number } | null = null;
  let least = Infinity;
  for (let p = n - 2; p >= 1; p -= 2)
    for (let c = 0; c < count; c++) {
      const [more, fewer] = [rest[(n - p) * count + c], rest[(n - 2 - p) * count + c]];
      const cost = common[p * count + c] + (more + fewer) / 2 + turnsOf(n - p) * turnWeight;
      if (cost >= least - 1e-6) continue;
      least = cost;
      best = { p, c };
    }
  if (!best) return null;
  const { p, c } = best;
  const shared = new Array<number>(p);
  for (let k = p, lane = c; k >= 1; lane = from[k * count + lane], k--) shared[k - 1] = lane;
  const chain = (k: number): number[] => {
    const lanes: number[] = [];
    for (let lane = to[k * count + c]; k >= 1; k--, lane = to[k * count + lane]) lanes.push(lane);
    return lanes;
  };
  const place = (lanes: readonly number[]): Int32Array => {
    const padded = [...lanes.map(real), ...new Array<number>(n - lanes.length).fill(-1)];
    return Int32Array.from(low ? padded.reverse() : padded);
  };
  const lanes = place([...shared, ...chain(n - p)]);
  const cold = (k: number) => common[p * count + c] + rest[k * count + c];
  return {
    full: { lanes, cold: cold(n - p), runLength: lanes.reduce((sum, lane) => sum + costs.length[lane], 0) },
    few: place([...shared, ...chain(n - 2 - p)]),
    block: low ? [0, n - p - 1] : [p, n - 1],
    turns: turnsOf(n - p),
    fewCold: cold(n - 2 - p),
  };
}

/** Turns that a block of so many lanes adds where it ends and two less begin, less those the missing two would take. */
const turnsOf = (block: number): number => 2 * block - 4;

/** A place for the change, and what becomes of the choice there. */
export interface Change {
  /** Index of the first cross lane above it. */
  readonly at: number;
  /** Expected laid length of the main stretch, mm. */
  readonly expected: number;
  /** Cold floor of the main lanes, mm2. */
  readonly cold: number;
}

/** Every place along the cross lanes of a choice for a change to fewer lanes on either side. */
export function changesOf(
  space: ZoneSpace,
  choice: LaneChoice,
  { full, few, fewCold, block, turns }: ThinLanes,
): Record<End, Change[]> {
  const { usable, setting } = space;
  const { pitch } = setting.lattice;
  const cross = choice.cross.lanes;
  const node = nodeAt(space, choice);
  const [from, to] = block;
  /** lengths[k]: of the block's lanes from the first cross lane up to the k-th. */
  const lengths = (lanes: Int32Array): Float64Array => {
    const studs = new Int32Array(cross.length);
    for (const lane of lanes.subarray(from, to + 1)) {
      if (lane < 0) continue;
      for (let k = 1; k < cross.length; k++)
        for (let x = cross[k - 1]; x < cross[k]; x++)
          if (usable[node(lane, x)] && usable[node(lane, x + 1)]) studs[k]++;
    }
    let sum = 0;
    return Float64Array.from(studs, (count) => {
      sum += count;
      return sum * pitch;
    });
  };
  const [all, fewer] = [lengths(full.lanes), lengths(few)];
  const last = cross.length - 1;
  const deep = (full.lanes[to] - full.lanes[from]) * pitch;
  const whole = expectedLength(space, full) + deep - turns * cornerSaving(setting.lattice);
  const span = cross[last] - cross[0];
  const change = (at: number, cut: number, thin: number): Change => {
    const cold = full.cold + (thin / span) * (fewCold - full.cold);
    return { at, expected: whole - cut, cold };
  };
  const changes: Record<End, Change[]> = { low: [], high: [] };
  for (let at = 2; at < last; at++) {
    changes.low.push(change(at, all[at] - fewer[at - 1], cross[at - 1] - cross[0]));
    const cut = all[last] - all[at - 1] - (fewer[last] - fewer[at]);
    changes.high.push(change(at, cut, cross[last] - cross[at]));
  }
  return changes;
}

/** The choice with its lanes thinned on one side of a change. */
export function thinned(
  space: ZoneSpace,
  choice: LaneChoice,
  { full, few }: ThinLanes,
  side: End,
  { at, expected, cold }: Change,
): LaneChoice {
  const node = nodeAt(space, choice);
  let nodes = 0;
  for (const [k, x] of choice.cross.lanes.entries())
    for (const c of (side === 'high') === k >= at ? few : full.lanes)
      if (c >= 0) nodes += space.usable[node(c, x)];
  return { ...choice, main: { ...full, cold }, nodes, expected, thinning: { at, side, lanes: few } };
}

/** Lattice node at main channel c and cross channel x. */
const nodeAt = ({ s }: ZoneSpace, { axis }: LaneChoice) =>
  axis === 'rows' ? (c: number, x: number) => c * s.nx + x : (c: number, x: number) => x * s.nx + c;
