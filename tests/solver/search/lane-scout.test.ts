import { describe, expect, it } from 'vitest';
import type { LaneChoice } from '../../../solver/search/lane-choice.js';
import { LaneScout } from '../../../solver/search/lane-scout.js';
import { mainWindow } from '../../../solver/search/length-window.js';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { box, cableOf, catalogueOf, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const space = zoneSpace(
  roomOf({ outline: box(0, 0, 1200, 900), buffer: box(0, 750, 1200, 900) }),
  settingOf(),
);

const mouths = mouthsOf(space, 4);

const everyChoice = (scout: LaneScout, cables: ReturnType<typeof catalogueOf>, states = 60): LaneChoice[] => {
  const all: LaneChoice[] = [];
  for (let next = scout.next(cables, states, Infinity); next; next = scout.next(cables, states, Infinity))
    all.push(next.choice);
  return all;
};

const keyOf = ({ axis, main, cross, minGap, band, thinning }: LaneChoice) =>
  `${axis} ${minGap} ${main.lanes} ${cross.lanes} ${band?.from} ${band?.to} ${thinning?.at} ${thinning?.side} ${thinning?.lanes}`;

describe('choices of lanes for a zone', () => {
  const cables = catalogueOf(5000, 20_000, 1.12);

  it('no choice comes twice for the same number of states, each comes again for another, and the list ends', () => {
    const scout = new LaneScout(space, mouths, 600, cables);
    const first = everyChoice(scout, cables).map(keyOf);
    expect(first.length).toBeGreaterThan(20);
    expect(new Set(first).size).toBe(first.length);
    expect(scout.next(cables, 60, Infinity)).toBeNull();
    expect(new Set(everyChoice(scout, cables, 200).map(keyOf))).toEqual(new Set(first));
  });

  it('are made of lanes both ways through the entry, with crossings counted on usable floor', () => {
    const all = everyChoice(new LaneScout(space, mouths, 600, cables), cables);
    expect(all.some(({ thinning }) => thinning)).toBe(true);
    for (const { axis, main, cross, nodes, thinning } of all) {
      const [rows, columns] = axis === 'rows' ? [main, cross] : [cross, main];
      expect([...rows.lanes]).toContain(Math.floor(space.start / space.s.nx));
      expect([...columns.lanes]).toContain(space.start % space.s.nx);
      const lanesAt = (k: number) =>
        thinning && (thinning.side === 'high') === k >= thinning.at ? thinning.lanes : main.lanes;
      const on = [...cross.lanes].flatMap((c, k) =>
        [...lanesAt(k)].filter(
          (m) => m >= 0 && space.usable[axis === 'rows' ? m * space.s.nx + c : c * space.s.nx + m],
        ),
      );
      expect(nodes).toBe(on.length);
    }
  });

  it('no choice is offered for a cable it misses by more than a quarter', () => {
    const scout = new LaneScout(space, mouths, 600, cables);
    for (const choice of everyChoice(scout, [cableOf(9000)])) {
      const [low, high] = mainWindow(
        space,
        cableOf(9000),
        2 * choice.main.lanes.length,
        scout.tailGuess(choice.minGap),
      );
      expect(Math.max(low - choice.expected, choice.expected - high)).toBeLessThanOrEqual(0.25 * 9000 + 1e-6);
    }
  });

  it('what was learnt of real lengths shifts which choice comes next', () => {
    const cable = cableOf(9000);
    const taught = new LaneScout(space, mouths, 600, [cable]);
    const first = taught.next([cable], 60, Infinity)?.choice;
    expect(first).toBeDefined();
    if (!first) return;
    const routed = { tail: 1500, turns: 2 * first.main.lanes.length, cost: 0, bound: 0 };
    // Routes turn out two metres longer than expected: what comes next is expected to be shorter by about that.
    taught.learn(first, { main: first.expected + 2000, ...routed });
    const same = new LaneScout(space, mouths, 600, [cable]);
    same.next([cable], 60, Infinity);
    same.learn(first, { main: first.expected, ...routed });
    const [taughtNext, sameNext] = [
      taught.next([cable], 60, Infinity)?.choice,
      same.next([cable], 60, Infinity)?.choice,
    ];
    expect(taughtNext && sameNext && taughtNext.expected < sameNext.expected).toBe(true);
    expect(taught.tailGuess(first.minGap)).toBeCloseTo(1500 * 1.1, 9);
  });

  it('promises what the next choice promises, and leaves it to be the next', () => {
    const scout = new LaneScout(space, mouths, 600, cables);
    for (let n = 0; n < 5; n++) {
      const promised = [1, 2].map(() => scout.promise(cables, 60, Infinity));
      const next = scout.next(cables, 60, Infinity)?.promise;
      expect(promised).toEqual([next, next]);
    }
    expect(new LaneScout(space, mouths, 600, []).promise([], 60, Infinity)).toBe(Infinity);
  });

  it('a tight buffer that holds less than the play of routes with so many turns rules the cable out', () => {
    const cable = cableOf(9000);
    // A tail of 1500 mm holds the play of turns t as long as 2 (tolerance L + slop t + 4 mm) is no more: not with 400.
    const [low, high] = mainWindow(space, cable, 400, 1500);
    expect(low).toBeGreaterThan(high);
    const taught = (stretch: number | null) => {
      const scout = new LaneScout(space, mouths, 600, [cable], stretch);
      const first = scout.next([cable], 60, Infinity)?.choice;
      if (!first) throw new Error('no choice at first');
      for (const axis of ['rows', 'columns'] as const)
        scout.learn({ ...first, axis }, { main: first.expected, tail: 1500, turns: 400, cost: 0, bound: 0 });
      return scout.next([cable], 60, Infinity);
    };
    expect(taught(1500)).toBeNull();
    expect(taught(null)).not.toBeNull();
  });

  it('misses by nothing inside the window and by the mm outside; never suits a cable of another bend', () => {
    const scout = new LaneScout(space, mouths, 600, cables);
    const [choice] = everyChoice(scout, cables);
    const cable = cableOf(9000);
    const [low, high] = mainWindow(space, cable, 20, 2000);
    expect(scout.miss(choice, cable, (low + high) / 2, 20, 2000)).toBe(0);
    expect(scout.miss(choice, cable, low - 7, 20, 2000)).toBeCloseTo(7, 6);
    expect(scout.miss(choice, cable, high + 11, 20, 2000)).toBeCloseTo(11, 6);
    expect(scout.miss(choice, cable, high, 20, 0)).toBe(Infinity);
    expect(scout.miss(choice, cableOf(9000, { minBendRadius: 45 }), high, 20, 2000)).toBe(Infinity);
  });

  it('stiffer cables get lanes of their own, further apart', () => {
    const mixed = [cableOf(9000), cableOf(9100, { minBendRadius: 45 })];
    const gaps = new Set(
      everyChoice(new LaneScout(space, mouths, 600, mixed), mixed).map(({ minGap }) => minGap),
    );
    expect(gaps).toEqual(new Set([2, 3]));
  });
});
