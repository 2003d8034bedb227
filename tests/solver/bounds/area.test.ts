import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cornerGain, coverageBound, sweptArea } from '../../../solver/bounds/area.js';
import { AREA_TOLERANCE, segmentMargin } from '../../../solver/check/area-rule.js';
import { entryNodes } from '../../../solver/check/lattice-rules.js';
import { lineOf } from '../../../solver/check/line.js';
import { spacingRule } from '../../../solver/check/spacing-rule.js';
import { depthInRing, polylineLength } from '../../../solver/geometry/measure.js';
import { areaOf, contains, intersect, subtract, tube } from '../../../solver/geometry/region.js';
import { routingArea, targetArea } from '../../../solver/geometry/zone-area.js';
import { planLayout } from '../../../solver/plan.js';
import { cornerSaving, heatRadius, type Point, type Setting, type Zone } from '../../../solver/problem.js';
import { eachPath } from '../../helpers/lattice-paths.js';
import { catalogueOf, planRequest } from '../../helpers/routing-rooms.js';
import { cableOf, nodeAt, nodeOf, PITCH, rooms, SIDE } from '../../helpers/small-rooms.js';

describe('the enumerator', () => {
  const grid = (nx: number, ny: number) => ({ nx, ny, open: () => true });

  it('counts undirected Hamiltonian paths as OEIS A332307 does', () => {
    for (const [nx, ny, expected] of [
      [3, 1, 1],
      [3, 2, 8],
      [3, 3, 20],
      [3, 4, 62],
      [3, 5, 132],
      [3, 6, 336],
      [4, 1, 1],
      [4, 2, 14],
      [4, 3, 62],
      [4, 4, 276],
      [4, 5, 1006],
    ]) {
      let directed = 0;
      for (let start = 0; start < nx * ny; start += 1) {
        eachPath(grid(nx, ny), start, (path) => {
          if (path.length === nx * ny) directed += 1;
          return true;
        });
      }
      expect(directed).toBe(2 * expected);
    }
  });

  it('counts those between opposite corners as OEIS A333580 does', () => {
    for (const [nx, ny, expected] of [
      [4, 5, 20],
      [5, 5, 104],
      [5, 6, 378],
    ]) {
      let found = 0;
      eachPath(grid(nx, ny), 0, (path) => {
        const last = path[path.length - 1];
        if (path.length === nx * ny && last === nx * ny - 1) found += 1;
        return last !== nx * ny - 1;
      });
      expect(found).toBe(expected);
    }
  });
});

describe('area added behind a corner', () => {
  it('is what the polygons say (closed form, R/p from 0.5 to 3)', () => {
    for (const radius of [15, 24, 30, 31, 40, 45, 60, 75, 90]) {
      const first = tube(
        [
          [-PITCH, 0],
          [0, 0],
        ],
        radius,
      );
      const second = tube(
        [
          [0, 0],
          [0, PITCH],
        ],
        radius,
      );
      expect(Math.abs(cornerGain(radius, PITCH) - areaOf(subtract(second, first)))).toBeLessThan(2);
    }
  });
});

/** Sample points of the target, every `step` mm. */
const samplesOf = (zone: Zone, step: number): Point[] => {
  const target = targetArea(zone, routingArea(zone));
  const points: Point[] = [];
  for (let x = -60; x <= 200; x += step) {
    for (let y = -60; y <= 200; y += step) if (contains(target, [x, y])) points.push([x, y]);
  }
  return points;
};

/** Distance of the sample points, mm. */
const STEP = 11;

interface Candidate {
  readonly hits: number;
  readonly path: readonly Point[];
}

/**
 * For every triple (unit steps and stub, turns, end in or out of the buffer) the paths from the entry that heat more sample points than the ones
 * before, best last; the last vertex is on a node or a third or two thirds of a step beyond. Null: too many paths.
 */
const bestPaths = (
  zone: Zone,
  setting: Setting,
  start: Point,
  most: number,
): Map<string, Candidate[]> | null => {
  const radius = heatRadius(setting);
  const [nx, ny, at] = [SIDE, SIDE, nodeAt];
  const free = (a: Point, b: Point): boolean => segmentMargin(zone, a, b) >= -AREA_TOLERANCE;
  const openness = new Map<number, boolean>();
  const open = (v: number, w: number): boolean => {
    const key = Math.min(v, w) * nx * ny + Math.max(v, w);
    const known = openness.get(key) ?? free(at(v), at(w));
    openness.set(key, known);
    return known;
  };
  const points = samplesOf(zone, STEP);
  const words = Math.ceil(points.length / 32);
  /** What the first `part` thirds of the step from v to w heat; null where they leave the routing area. */
  const heatOf = (v: number, w: number, part: number): Int32Array | null => {
    const key = (v * nx * ny + w) * 4 + part;
    const known = masks.get(key);
    if (known !== undefined) return known;
    const mask = free(at(v), tipOf(v, w, part)) ? maskOf(at(v), tipOf(v, w, part)) : null;
    masks.set(key, mask);
    return mask;
  };
  const masks = new Map<number, Int32Array | null>();
  const tipOf = (v: number, w: number, part: number): Point => {
    const [a, b] = [at(v), at(w)];
    return [a[0] + (part / 3) * (b[0] - a[0]), a[1] + (part / 3) * (b[1] - a[1])];
  };
  const maskOf = (a: Point, b: Point): Int32Array => {
    const mask = new Int32Array(words);
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const square = dx * dx + dy * dy;
    points.forEach(([x, y], k) => {
      const t = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / square));
      if (Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy) <= radius) mask[k >> 5] |= 1 << (k & 31);
    });
    return mask;
  };
  const ones = (mask: Int32Array, more: Int32Array): number => {
    let count = 0;
    for (let k = 0; k < words; k += 1) {
      let word = mask[k] | more[k];
      word -= (word >>> 1) & 0x55555555;
      word = (word & 0x33333333) + ((word >>> 2) & 0x33333333);
      count += (((word + (word >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
    }
    return count;
  };
  const bests = new Map<string, Candidate[]>();
  const offer = (key: string, hits: number, tip: Point): void => {
    const whole = `${key} ${depthInRing(tip, zone.buffer) < -0.5 ? 'out' : 'in'}`;
    const list = bests.get(whole);
    if (list === undefined) bests.set(whole, [{ hits, path: [...line, tip] }]);
    else if (list[list.length - 1].hits < hits) list.push({ hits, path: [...line, tip] });
  };
  const stack: Int32Array[] = [];
  const turns: number[] = [];
  const line: Point[] = [];
  const limit = setting.spacing.min * PITCH - 0.01;
  let count = 0;
  eachPath({ nx, ny, open }, nodeOf(start), (path) => {
    count += 1;
    if (count > most) return false;
    const depth = path.length - 1;
    const v = path[depth];
    const here = at(v);
    line.length = depth;
    line.push(here);
    // Two nodes too near for the path between them: no continuation is legal.
    for (let k = 0; k < depth - 1; k += 1) {
      const d = Math.hypot(line[k][0] - here[0], line[k][1] - here[1]);
      if (d < limit && (depth - k) * PITCH > Math.SQRT2 * d + 1) return false;
    }
    const added = heatOf(path[Math.max(0, depth - 1)], v, 3) ?? new Int32Array(words);
    const mask = depth > 0 ? stack[depth - 1].map((word, k) => word | added[k]) : added;
    stack.length = depth;
    stack.push(mask);
    const bent = depth > 1 && path[depth] - path[depth - 1] !== path[depth - 1] - path[depth - 2] ? 1 : 0;
    turns.length = depth;
    turns.push((turns[depth - 1] ?? 0) + bent);
    offer(`${3 * depth} ${turns[depth]}`, ones(mask, mask), here);
    for (const step of [1, nx, -1, -nx]) {
      if (depth > 0 && v + step === path[depth - 1]) continue;
      const turned = turns[depth] + (depth > 0 && step !== v - path[depth - 1] ? 1 : 0);
      for (const part of [1, 2]) {
        const stub = heatOf(v, v + step, part);
        if (stub !== null) offer(`${3 * depth + part} ${turned}`, ones(mask, stub), tipOf(v, v + step, part));
      }
    }
    return true;
  });
  return count > most ? null : bests;
};

describe('coverage bound', () => {
  it('is never beaten by any legal path in thousands of small rooms', () => {
    let [read, paths, tight, sweptTight] = [0, 0, 0, 0];
    fc.assert(
      fc.property(rooms, ({ zone, setting }) => {
        const target = targetArea(zone, routingArea(zone));
        const total = areaOf(target);
        if (total < 500) return;
        const legal = (path: readonly Point[]): boolean =>
          spacingRule(setting, lineOf({ path, reserve: [] }, PITCH / 2)).ok;
        const heatedBy = (path: readonly Point[]): number =>
          areaOf(intersect(tube(path, heatRadius(setting)), target));
        let longest = 0;
        let best: Candidate = { hits: -1, path: [] };
        for (const start of entryNodes(zone, setting.lattice)) {
          const bests = bestPaths(zone, setting, start, 1200);
          if (bests === null) return;
          for (const [key, list] of bests) {
            paths += list.length;
            const [, turns, end] = key.split(' ');
            const length = polylineLength(list[0].path) - Number(turns) * cornerSaving(setting.lattice);
            const swept = sweptArea(setting, length - 1);
            if (end === 'in') longest = Math.max(longest, length);
            // What the samples see far below both bounds needs no exact measure.
            const full = (0.85 * swept) / STEP ** 2;
            const worth = end === 'in' ? Math.min(best.hits + 1, full) : full;
            const found = list.findLast(({ hits, path }) => hits >= worth && legal(path));
            if (found === undefined) continue;
            if (end === 'in' && found.hits > best.hits) best = found;
            if (found.hits * STEP ** 2 < 0.85 * swept) continue;
            const heated = heatedBy(found.path);
            expect(heated).toBeLessThanOrEqual(swept);
            if (heated > 0.9 * swept) sweptTight += 1;
          }
        }
        if (best.hits < 0) return;
        const greatest = heatedBy(best.path) / total;
        read += 1;
        const { fraction } = coverageBound(zone, setting, [cableOf(longest - 1), cableOf(5)]);
        expect(greatest).toBeLessThanOrEqual(fraction + 1e-9);
        if (fraction < 1 && greatest > fraction - 0.02) tight += 1;
      }),
      { seed: 61, numRuns: 2600 },
    );
    expect(read).toBeGreaterThan(1200);
    expect(paths).toBeGreaterThan(150_000);
    expect(tight).toBeGreaterThan(10);
    expect(sweptTight).toBeGreaterThan(200);
  });

  it('does not count floor behind a passage that one run fills, and a layout comes up to it', () => {
    // Between the bench and the wall above it lies one channel at most: nothing comes back from there.
    const zone: Zone = {
      id: 'passage',
      wet: false,
      outline: [
        [0, 0],
        [3000, 0],
        [3000, 750],
        [1050, 750],
        [1050, 1750],
        [0, 1750],
      ],
      clearance: 50,
      exclusions: [
        {
          id: 'bench',
          shape: {
            kind: 'polygon',
            outline: [
              [750, 0],
              [1750, 0],
              [1750, 690],
              [750, 690],
            ],
          },
          clearance: 0,
        },
      ],
      buffer: [
        [0, 1600],
        [1050, 1600],
        [1050, 1750],
        [0, 1750],
      ],
      entry: [60, 60],
      leadIn: 0,
      priorities: [],
    };
    const request = planRequest(zone, { turnWeight: 1000, catalogue: catalogueOf(9000, 30_000, 1.1) });
    const outcome = planLayout(request, { engine: null, expired: () => false });
    if (outcome.kind !== 'planned') throw new Error('this room can be planned');
    const [{ upperBound, check }] = outcome.zones;
    expect(upperBound).toBeLessThan(0.65);
    expect(check.coverage.fraction).toBeLessThanOrEqual(upperBound);
    expect(check.coverage.fraction).toBeGreaterThan(upperBound - 0.01);
  });
});
