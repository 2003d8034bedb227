import { describe, expect, it } from 'vitest';
import { Ascent, DOWN, LEFT, RIGHT, UP } from '../../../solver/search/frontier-ascent.js';
import { edgePotential, Potentials, potentialBound } from '../../../solver/search/frontier-potential.js';
import { type SweepView, sweepView } from '../../../solver/search/frontier-view.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

const SWEEPS = ['rows', 'columns'] as const;

/** The route of a lone start has no edge to pay for; the frontier treats it apart. */
const lone = (view: SweepView) => view.present.reduce((sum, there) => sum + there, 0) === 1;

describe('bound of the relaxation', () => {
  it('never above the optimum, however many rounds, and nearly as high as it on many grids', () => {
    const random = seeded(211);
    let bounded = 0;
    let tight = 0;
    for (let n = 0; n < 4000; n++) {
      const task = randomGridTask(random, 5, 14);
      // Outside source: every simple path from the start, walked.
      const { cost } = bruteForce(task);
      const view = sweepView(task, SWEEPS[n % 2], random() < 0.5);
      if (cost === Infinity || lone(view)) continue;
      const rounds = Math.floor(random() * 60);
      const bound = view.unreachable + potentialBound(edgePotential(view, rounds));
      expect(bound).toBeLessThanOrEqual(cost + 1e-9);
      bounded++;
      if (rounds > 20 && bound > cost - 0.02 * (1 + cost)) tight++;
    }
    expect(bounded).toBeGreaterThan(2000);
    expect(tight).toBeGreaterThan(600);
  });

  it('stays below the optimum after every single round, forwards or backwards', () => {
    const random = seeded(212);
    let checked = 0;
    for (let n = 0; n < 300; n++) {
      const task = randomGridTask(random, 4, 12);
      const { cost } = bruteForce(task);
      const view = sweepView(task, SWEEPS[n % 2], false);
      if (cost === Infinity || lone(view)) continue;
      const ascent = new Ascent(view);
      for (let round = 0; round < 20; round++) {
        expect(view.unreachable + ascent.bound()).toBeLessThanOrEqual(cost + 1e-9);
        ascent.round(random() < 0.5);
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(3000);
  });

  it('bounds every sweep as well with the multipliers found along the rows', () => {
    const random = seeded(213);
    let bounded = 0;
    for (let n = 0; n < 600; n++) {
      const task = randomGridTask(random, 5, 14);
      const { cost } = bruteForce(task);
      const view = sweepView(task, 'rows', false);
      if (cost === Infinity || lone(view)) continue;
      const rounds = Math.floor(random() * 60);
      const shared = new Potentials(task);
      const bound = potentialBound(edgePotential(view, rounds));
      expect(view.unreachable + bound).toBeLessThanOrEqual(cost + 1e-9);
      for (const sweep of SWEEPS)
        for (const backward of [false, true])
          expect(potentialBound(shared.get(sweep, rounds, backward))).toBeCloseTo(bound, 5);
      bounded++;
    }
    expect(bounded).toBeGreaterThan(300);
  });

  it.each([
    [4, 4, 6],
    [5, 4, 6],
    [7, 5, 8],
  ])('knows the least turns of a %d x %d grid, all visited from a corner: %d', (nx, ny, least) => {
    // 2 min(m, n) - 2: Kranakis, Krizanc, Meertens, Ars Combin. 38 (1994) 177-192 (for simple paths from memory).
    const bound = potentialBound(edgePotential(sweepView(gridTask(nx, ny), 'auto', false), 250));
    expect(bound).toBeGreaterThan(least - 2);
    expect(bound).toBeLessThanOrEqual(least);
  });
});

/** Everything a cell may do: the sides it uses and what that costs without the sides' pay. */
function choicesOf(view: SweepView, t: number, endShift: number): { sides: number[]; cost: number }[] {
  const single = [LEFT, UP, RIGHT, DOWN].map((side) => [side]);
  if (t === view.start) return single.map((sides) => ({ sides, cost: 0 }));
  const ends = single.map((sides) => ({ sides, cost: view.endCost[t] + endShift }));
  const skip = { sides: [], cost: view.skipCost[t] };
  if (view.endOnly[t] === 1) return [skip, ...ends];
  const straight = [
    [LEFT, RIGHT],
    [UP, DOWN],
  ].map((sides) => ({ sides, cost: 0 }));
  const corners = [LEFT, RIGHT].flatMap((x) =>
    [UP, DOWN].map((y) => ({ sides: [x, y], cost: view.turnCost[t] })),
  );
  return [skip, ...straight, ...corners, ...ends];
}

describe('one round', () => {
  /** Multiple of the dearest cost that what is not allowed counts as. */
  const FORBIDDEN = 64;

  it('hands on, for each side, what the cheapest choice with it costs more than the cheapest without', () => {
    const random = seeded(213);
    let handed = 0;
    for (let n = 0; n < 1500; n++) {
      const view = sweepView(randomGridTask(random, 4, 12), SWEEPS[n % 2], false);
      const ascent = new Ascent(view);
      const limit = FORBIDDEN * ascent.dearest;
      let endShift = 0;
      for (let round = 0; round < 4; round++) {
        if (round === 2) {
          ascent.bound();
          let end = Infinity;
          for (let t = 0; t < ascent.size; t++) {
            if (view.present[t] === 0 || ascent.passCost(t) === Infinity) continue;
            end = Math.min(end, ascent.endCost(t) - ascent.passCost(t));
          }
          if (Number.isFinite(end)) endShift = -end;
        }
        const forwards = round % 2 === 0;
        const pay = ascent.pay.slice();
        const order = Array.from(view.present, (_, t) => (forwards ? t : ascent.size - 1 - t));
        for (const t of order) {
          if (view.present[t] === 0) continue;
          const choices = choicesOf(view, t, endShift).map(({ sides, cost }) => ({
            sides,
            cost: sides.reduce((sum, side) => sum + pay[4 * t + side], cost),
          }));
          const least = (used: boolean, side: number) =>
            choices.reduce(
              (min, c) => (c.sides.includes(side) === used ? Math.min(min, c.cost) : min),
              limit,
            );
          const [onwards, back] = forwards
            ? [
                [RIGHT, DOWN],
                [LEFT, UP],
              ]
            : [
                [LEFT, UP],
                [RIGHT, DOWN],
              ];
          const open = (sides: number[]) => sides.filter((side) => pay[4 * t + side] < Infinity);
          const share = 1 / Math.max(open(onwards).length, open(back).length);
          const given = open(onwards).map((side) => ({
            side,
            x: (least(true, side) - least(false, side)) * share,
          }));
          for (const { side, x } of given) {
            const step = side === LEFT || side === RIGHT ? 1 : view.width;
            const other = forwards ? t + step : t - step;
            pay[4 * t + side] -= x;
            pay[4 * other + ((side + 2) % 4)] += x;
            handed++;
          }
        }
        ascent.round(forwards);
        for (let k = 0; k < pay.length; k++)
          if (pay[k] === Infinity) expect(ascent.pay[k]).toBe(Infinity);
          else expect(Math.abs(ascent.pay[k] - pay[k])).toBeLessThan(1e-6);
      }
    }
    expect(handed).toBeGreaterThan(20_000);
  });
});
