import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AxisLanes, axisLanes, type End, type LaneChoice } from '../../../solver/search/lane-choice.js';
import { UNEVEN } from '../../../solver/search/lane-shift.js';
import { changesOf, thinLanes, thinned } from '../../../solver/search/lane-thinning.js';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { gridOfChoice, routeLanes } from '../../../solver/search/route-lanes.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { lanesApart, lanesMadeOf } from '../../helpers/random-lanes.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';
import { lightly, TURN_WEIGHT } from '../../helpers/scouted.js';

const MIN_GAP = 2;
const WIDEST = 3;
const GAPS = 3;

interface Case {
  readonly lanes: AxisLanes;
  readonly before: readonly number[];
  readonly edge: End;
}

/** Channels with random cold areas, a few breaks, and a set of lanes on them. */
const cases: fc.Arbitrary<Case> = fc
  .record({
    gaps: fc.array(fc.integer({ min: MIN_GAP, max: WIDEST }), { minLength: 3, maxLength: 6 }),
    margins: fc.tuple(fc.integer({ min: 0, max: 2 }), fc.integer({ min: 0, max: 2 })),
    cold: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 90, maxLength: 90 }),
    closed: fc.integer({ min: 0, max: 40 }),
    at: fc.array(fc.integer({ min: 1, max: 16 }), { maxLength: 2 }),
    entry: fc.integer({ min: -4, max: 6 }),
    edge: fc.constantFrom<End>('low', 'high'),
  })
  .map(({ gaps, margins, cold, closed, at, entry, edge }) => {
    const before = lanesApart(margins[0], gaps);
    const forced = entry >= 0 ? (before[entry] ?? -1) : -1;
    const made = { before, beyond: margins[1], cold, closed, at, minGap: MIN_GAP, gaps: GAPS, forced };
    const lanes = lanesMadeOf(made);
    return { lanes, before, edge };
  });

const costOf = ({ costs, options }: AxisLanes, set: readonly number[]): number => {
  const [first, last] = [set[0], set[set.length - 1]];
  let sum = costs.before[first] + options.firstCost[first] + costs.after[last] + options.lastCost[last];
  for (let k = 1; k < set.length; k++) {
    const gap = set[k] - set[k - 1];
    sum += costs.between[set[k - 1] * GAPS + gap - MIN_GAP] + UNEVEN * gap ** 2;
  }
  return sum;
};

/** All sets of n lanes with gaps in range, the entry among them, odd or even below each break as in `before`. */
function* sets({ lanes, before }: Case, n: number, chosen: number[] = []): Generator<number[]> {
  const { breaks, costs, options } = lanes;
  if (chosen.length === n) {
    const below = (set: readonly number[], at: number) => set.filter((c) => c < at).length % 2;
    const agrees = breaks.every((at) => below(chosen, at) === below(before, at));
    if (agrees && (options.forced < 0 || chosen.includes(options.forced))) yield chosen;
    return;
  }
  const last = chosen[chosen.length - 1];
  for (let c = 0; c < costs.lane.length; c++) {
    if (!costs.lane[c]) continue;
    if (last !== undefined && (c - last < MIN_GAP || c - last > WIDEST)) continue;
    yield* sets({ lanes, before, edge: 'high' }, n, [...chosen, c]);
  }
}

/** Lanes in common from the other edge on, of two sets that must have at least one and end in blocks of n and n - 2. */
const common = (many: readonly number[], few: readonly number[], edge: End): number => {
  const at = (set: readonly number[], k: number) => (edge === 'high' ? set[k] : set[set.length - 1 - k]);
  let k = 0;
  while (k < few.length && at(many, k) === at(few, k)) k++;
  return k;
};

describe('two lanes less behind a change', () => {
  it('cost the least of all pairs of sets with the same parities, cold floor and turns together', () => {
    let found = 0;
    let none = 0;
    fc.assert(
      fc.property(cases, fc.integer({ min: 0, max: 4 }), (one, turnWeight) => {
        const set = { lanes: Int32Array.from(one.before), cold: 0, runLength: 0 };
        const n = one.before.length;
        const thin = thinLanes(one.lanes, set, one.edge, WIDEST, turnWeight);
        // Outside source: all pairs, enumerated. A block of 2 k lanes ends and one of 2 k - 2 begins: 4 k - 4 turns.
        let least = Infinity;
        for (const many of sets(one, n))
          for (const few of sets(one, n - 2)) {
            const shared = common(many, few, one.edge);
            for (let p = n - 2; p >= 1; p -= 2)
              if (p <= shared)
                least = Math.min(
                  least,
                  (costOf(one.lanes, many) + costOf(one.lanes, few)) / 2 + (2 * (n - p) - 4) * turnWeight,
                );
          }
        if (!thin) {
          none++;
          expect(least).toBe(Infinity);
          return;
        }
        found++;
        const many = [...thin.full.lanes];
        const few = [...thin.few].filter((c) => c >= 0);
        expect(few.length).toBe(n - 2);
        expect(costOf(one.lanes, many)).toBeCloseTo(thin.full.cold, 6);
        expect(costOf(one.lanes, few)).toBeCloseTo(thin.fewCold, 6);
        expect((thin.full.cold + thin.fewCold) / 2 + thin.turns * turnWeight).toBeCloseTo(least, 5);
        const [from, to] = thin.block;
        expect(one.edge === 'high' ? to : from).toBe(one.edge === 'high' ? n - 1 : 0);
        for (let m = 0; m < n; m++) if (m < from || m > to) expect(thin.few[m]).toBe(many[m]);
      }),
      { seed: 719, numRuns: 300 },
    );
    expect(found).toBeGreaterThan(100);
    expect(none).toBeGreaterThan(20);
  });
});

/** A corridor 900 mm wide with the buffer across its far end: only odd numbers of lengthwise runs end there. */
const corridor = () => {
  const space = zoneSpace(
    roomOf({ outline: box(0, 0, 3000, 900), buffer: box(2850, 0, 3000, 900), entry: [55, 55] }),
    settingOf(),
  );
  const lanes = { rows: axisLanes(space, 'rows', 2, 0), columns: axisLanes(space, 'columns', 2, 0) };
  const main = lanes.rows.plain[13];
  const cross = lanes.columns.plain.reduce((a, b) => (b && (!a || b.cold < a.cold - 1) ? b : a));
  if (!main || !cross) throw new Error('no lanes');
  const choice: LaneChoice = { axis: 'rows', main, cross, minGap: 2, nodes: 0, expected: 0, parity: '1 1' };
  return { space, lanes, choice };
};

const ENDS = ['low', 'high'] as const;

describe('a corridor', () => {
  it('every place of a change: a longer thin part makes a shorter path, and routes come out as long as expected', () => {
    const { space, lanes, choice } = corridor();
    const mouths = mouthsOf(space, 4);
    let routed = 0;
    for (const edge of ENDS) {
      const thin = thinLanes(lanes.rows, choice.main, edge, 3, TURN_WEIGHT);
      if (!thin) throw new Error('no lanes');
      for (const side of ENDS) {
        const changes = changesOf(space, choice, thin)[side];
        const lengths = changes.map(({ expected }) => expected);
        expect(lengths).toEqual([...lengths].sort((a, b) => (side === 'high' ? a - b : b - a)));
        for (const change of changes.filter((_, k) => k % 6 === 3)) {
          const made = thinned(space, choice, thin, side, change);
          const grid = gridOfChoice(space, made, mouths, TURN_WEIGHT);
          if (!grid) continue;
          expect(grid.task.present.reduce((sum, there) => sum + there, 0)).toBe(made.nodes);
          const route = routeLanes(space, made, mouths, lightly(2));
          if (!route || route.route.skipped > 0) continue;
          // 13 runs take 24 turns, and the lanes that end and begin at the change add theirs.
          if (route.route.turns !== 24 + thin.turns) continue;
          routed++;
          expect(Math.abs(route.main - made.expected)).toBeLessThan(0.015 * made.expected);
        }
      }
    }
    expect(routed).toBeGreaterThan(5);
  });

  it('lanes keep the least gap on either side of the change, and no edge joins lanes that do not meet', () => {
    const { space, lanes, choice } = corridor();
    const thin = thinLanes(lanes.rows, choice.main, 'high', 3, TURN_WEIGHT);
    const change = thin && changesOf(space, choice, thin).low[9];
    if (!thin || !change) throw new Error('no lanes');
    const made = thinned(space, choice, thin, 'low', change);
    const grid = gridOfChoice(space, made, mouthsOf(space, 4), TURN_WEIGHT);
    if (!grid) throw new Error('no grid');
    const { task, node } = grid;
    const { nx } = space.s;
    for (let v = 0; v < node.length; v++) {
      if (task.east[v]) expect(Math.floor(node[v] / nx)).toBe(Math.floor(node[v + 1] / nx));
      if (task.north[v]) expect(node[v] % nx).toBe(node[v + task.nx] % nx);
      for (const w of [v + 1, v + task.nx]) {
        if (!task.present[v] || !task.present[w] || (w === v + 1 && w % task.nx === 0)) continue;
        const apart =
          Math.abs((node[w] % nx) - (node[v] % nx)) +
          Math.abs(Math.floor(node[w] / nx) - Math.floor(node[v] / nx));
        expect(apart).toBeGreaterThanOrEqual(2);
      }
    }
    // 13 lanes on one side, 11 on the other.
    const lanesAt = (i: number) =>
      Array.from({ length: task.ny }, (_, j) => task.present[j * task.nx + i]).reduce((a, b) => a + b, 0);
    expect([lanesAt(0), lanesAt(task.nx - 1)]).toEqual([11, 13]);
  });
});
