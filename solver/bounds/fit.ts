/**
 * How much cable a room can hold at the least spacing, by packing.
 *
 * Let D = spacing.min x p, r just below D/2, and e_1, e_2, ... the unit edges of path + reserve (only the last vertex
 * may lie between nodes, so at most the last edge is shorter than p). Write K(e) for all points within r of e.
 *
 * If the interiors of K(e_i) and K(e_j) meet, i - j = k > 0, two points of the edges are less than D apart, so by
 * the spacing rule at most sqrt(2) D + 1 mm of path lies between them; on the other hand at least (k - 1) p does. With
 * m p >= sqrt(2) D + 1, therefore, k <= m, and the area of the whole tube is
 *     sum of g_i,   g_i = |K(e_i) - K(e_(i-1)) - ... - K(e_(i-m))|.
 * g_i depends on the last m turns only (left, straight, right). Rounded, e_i takes u_i = p of cable, or p less one
 * corner's saving behind a corner. On the graph of turn sequences (those that keep the spacing rule; any piece of a
 * legal path does) let `rate` be no more than the least ratio of sum g to sum u over its cycles. Then g - rate u has
 * no negative cycle, so its sum over any walk is at least some -slack, found by Bellman and Ford. Hence
 *     tube >= |K(e_1)| + rate x (cable - 2 p) - slack
 * (the first edge is counted apart, the last may be short). The tube lies within r of the channels that can be
 * reached, whose area is measured; so the cable has a greatest length.
 */

import { lineOf } from '../check/line.js';
import { spacingRule } from '../check/spacing-rule.js';
import { areaOf, grow, intersect, regionOf, subtract, tube } from '../geometry/region.js';
import { routingArea } from '../geometry/zone-area.js';
import { once } from '../once.js';
import { cornerRadius, cornerSaving, type Point, type Region, type Setting, type Zone } from '../problem.js';
import { areaAround, type Reach, reachOf } from './reach.js';

/** Larger than the error of polygonised arcs and of the judge's spacing tolerance, mm. */
const ROUNDING = 0.05;

/** Longer windows have too many turn sequences. */
const LONGEST_WINDOW = 6;

/** More than the judge lets a path leave routing area and buffer, mm. */
const AREA_SLACK = 0.6;

/** What the judge lets path and reserve fall short by, in all, mm. */
const SHORT = 2;

/** One step in the graph of turn sequences; sequences shorter than the window are the walk's beginning. */
interface Step {
  readonly from: string;
  readonly to: string;
  /** Area that the new edge adds, rounded down, mm2. */
  readonly gain: number;
  /** Cable it takes, mm. */
  readonly cable: number;
}

const mirrored = (turns: string): string => turns.replace(/[LR]/g, (letter) => (letter === 'L' ? 'R' : 'L'));

const stepsOf = (setting: Setting, window: number, radius: number): Step[] => {
  const { pitch } = setting.lattice;
  const steps: Step[] = [];
  const extend = (turns: string, path: readonly Point[], way: number): void => {
    const straight = !/[LR]/.test(turns);
    for (const [letter, turn] of [
      ['S', 0],
      ['L', 1],
      ['R', 3],
    ] as const) {
      // What begins to the right is the mirror image of what begins to the left.
      if (straight && letter === 'R') continue;
      const next = (way + turn) % 4;
      const [x, y] = path[path.length - 1];
      const tip: Point = [x + [pitch, 0, -pitch, 0][next], y + [0, pitch, 0, -pitch][next]];
      const longer = [...path, tip];
      if (!spacingRule(setting, lineOf({ path: longer, reserve: [] }, cornerRadius(setting.lattice))).ok)
        continue;
      const step: Step = {
        from: turns,
        to: `${turns}${letter}`.slice(-(window - 1)),
        gain: areaOf(subtract(tube([path[path.length - 1], tip], radius), tube(path, radius + ROUNDING))),
        cable: turn === 0 ? pitch : pitch - cornerSaving(setting.lattice),
      };
      steps.push(step);
      if (!straight || letter === 'L')
        steps.push({ ...step, from: mirrored(step.from), to: mirrored(step.to) });
      if (longer.length <= window + 1) extend(turns + letter, longer, next);
    }
  };
  extend(
    '',
    [
      [0, 0],
      [pitch, 0],
    ],
    0,
  );
  return steps;
};

/** Least sums of gain - rate x cable from the empty sequence; null when a cycle makes them fall for ever. */
const leastSum = (steps: readonly Step[], rate: number): number | null => {
  const least = new Map<string, number>([['', 0]]);
  for (let round = 0; round <= steps.length; round += 1) {
    let changed = false;
    for (const { from, to, gain, cable } of steps) {
      const before = least.get(from);
      if (before === undefined) continue;
      const sum = before + gain - rate * cable;
      if (sum >= (least.get(to) ?? Number.POSITIVE_INFINITY) - 1e-9) continue;
      least.set(to, sum);
      changed = true;
    }
    if (!changed) return Math.min(...least.values());
  }
  return null;
};

/** What any legal path packs, whatever its turns: `rate` mm2 a mm of cable beyond its ends, short of it by `slack` mm2. */
interface Packing {
  /** Of the tube, mm. */
  readonly radius: number;
  readonly rate: number;
  readonly slack: number;
}

/** Null where the window of turns would be too long to enumerate, or nothing follows. */
const packingOf = (setting: Setting): Packing | null => {
  const { pitch } = setting.lattice;
  const least = setting.spacing.min * pitch;
  const window = Math.max(2, Math.ceil((Math.SQRT2 * least + 1) / pitch));
  const radius = least / 2 - ROUNDING;
  if (window > LONGEST_WINDOW || radius <= 0) return null;
  const steps = stepsOf(setting, window, radius);
  // The straight path is a cycle of ratio 2 r, so the least ratio is no greater; 0 is always low enough.
  let rate = 0;
  let over = 2 * radius;
  let slack = -(leastSum(steps, 0) ?? 0);
  for (let k = 0; k < 20; k += 1) {
    const middle = (rate + over) / 2;
    const sum = leastSum(steps, middle);
    if (sum === null) over = middle;
    else [rate, slack] = [middle, -sum];
  }
  return rate > 0 ? { radius, rate, slack } : null;
};

/** Length of cable (mm) that no legal piece of path can exceed whose tube of radius r lies in an area of room(r) mm2. */
const longestPacked = (
  setting: Setting,
  packing: Packing | null,
  roomWithin: (radius: number) => number,
): number => {
  if (!packing) return Number.POSITIVE_INFINITY;
  const { radius, rate, slack } = packing;
  const { pitch } = setting.lattice;
  const first = areaOf(
    tube(
      [
        [0, 0],
        [pitch, 0],
      ],
      radius,
    ),
  );
  return Math.max(pitch, (roomWithin(radius) - first + slack) / rate + 2 * pitch) + SHORT;
};

/** What holds for every layout of a zone, worked out when first asked for. */
export interface ZoneLimits {
  reach(): Reach;
  /** See `longestFit`. */
  longest(): number;
  /** See `longestInBuffer`. */
  inBuffer(): number;
}

export const zoneLimits = (zone: Zone, setting: Setting): ZoneLimits => {
  const reach = once(() => reachOf(zone, setting));
  const packing = once(() => packingOf(setting));
  return {
    reach,
    longest: once(() => longestFit(zone, setting, reach(), packing())),
    inBuffer: once(() => longestInBuffer(zone, routingArea(zone), setting, packing())),
  };
};

/** Length of cable (mm, lead-in included) that no legal path with its reserve can exceed. */
export const longestFit = (
  zone: Zone,
  setting: Setting,
  reach: Reach,
  packing: Packing | null = packingOf(setting),
): number => longestPacked(setting, packing, (radius) => areaAround(reach, radius)) + zone.leadIn;

/**
 * Length (mm) that no stretch of a legal path can have all of which lies in the buffer: its tube lies within r of
 * where buffer and routing area meet. It may begin and end between nodes, which one pitch more allows for.
 */
export const longestInBuffer = (
  zone: Zone,
  routing: Region,
  setting: Setting,
  packing: Packing | null = packingOf(setting),
): number => {
  const common = intersect(grow(regionOf(zone.buffer), AREA_SLACK), grow(routing, AREA_SLACK));
  return (
    longestPacked(setting, packing, (radius) => areaOf(grow(common, radius + ROUNDING))) +
    setting.lattice.pitch
  );
};
