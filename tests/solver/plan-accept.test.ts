import { describe, expect, it } from 'vitest';
import { planLayout } from '../../solver/plan.js';
import type { PlanOutcome, PlanRequest, PlanTools } from '../../solver/plan-types.js';
import type { Ring, Trace } from '../../solver/problem.js';

const rectangle = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/** An invented floor of 1.5 x 1.2 m with cables in small steps, so that several suit it. */
const REQUEST: PlanRequest = {
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
  zones: [
    {
      id: 'floor',
      wet: false,
      outline: rectangle(0, 0, 1500, 1200),
      clearance: 50,
      exclusions: [],
      buffer: rectangle(0, 1000, 1500, 1200),
      entry: [60, 60],
      leadIn: 0,
      priorities: [],
    },
  ],
  catalogue: [16, 16.5, 17, 17.5, 18].map((metres) => ({
    id: `F${metres}`,
    length: metres * 1000,
    power: metres * 12,
    voltage: 230,
    tolerance: 0.01,
    diameter: 5,
    minBendRadius: 15,
    coldLead: 3000,
  })),
  insisted: new Map(),
  turnWeight: 600,
  effort: 'quick',
};

const plan = (accept?: PlanTools['accept']): Extract<PlanOutcome, { kind: 'planned' }> => {
  const outcome = planLayout(REQUEST, {
    engine: null,
    expired: () => false,
    ...(accept === undefined ? {} : { accept }),
  });
  if (outcome.kind !== 'planned') throw new Error('no layout');
  return outcome;
};

const pathOf = ({ zones }: ReturnType<typeof plan>): string => JSON.stringify(zones[0]?.trace.path);

describe('a layout that the caller accepts', () => {
  const best = plan();

  it('is the best one where that is accepted', () => {
    const asked: Trace[] = [];
    const same = plan((_zone, trace) => {
      asked.push(trace);
      return 1;
    });
    expect(pathOf(same)).toBe(pathOf(best));
    expect(asked).toHaveLength(1);
  });

  it('is another legal one, nearly as good, where the best is not accepted', () => {
    const other = plan((_zone, trace) => (JSON.stringify(trace.path) === pathOf(best) ? 0 : 0.5));
    expect(pathOf(other)).not.toBe(pathOf(best));
    const [laid] = other.zones;
    expect(laid?.check.ok).toBe(true);
    expect(laid?.check.coverage.fraction).toBeGreaterThan(
      (best.zones[0]?.check.coverage.fraction ?? 0) - 0.02,
    );
  });

  it('is the one of the highest value', () => {
    const values = new Map<string, number>();
    const chosen = plan((_zone, trace) => {
      const value = 0.1 + 0.1 * values.size;
      values.set(JSON.stringify(trace.path), value);
      return value;
    });
    expect(values.size).toBeGreaterThan(1);
    expect(values.get(pathOf(chosen))).toBe(Math.max(...values.values()));
  });

  it('is the best one again where none is accepted', () => {
    expect(pathOf(plan(() => 0))).toBe(pathOf(best));
  });
});
