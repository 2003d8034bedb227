import { expect, it } from 'vitest';
import { checkTrace } from '../../../solver/check/check-trace.js';
import { studsAlong } from '../../../solver/continue/laid-part.js';
import { longTails } from '../../../solver/continue/long-tail.js';
import { planRest } from '../../../solver/continue/plan-rest.js';
import { restSpace } from '../../../solver/continue/rest-space.js';
import { nodePoint } from '../../../solver/lattice/stud-lattice.js';
import type { Cable, Point, Setting, Zone } from '../../../solver/problem.js';
import { EFFORTS } from '../../../solver/search/effort.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';

const setting: Setting = {
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
};

/** A corridor whose far end is all buffer. */
const corridor: Zone = {
  id: 'corridor',
  wet: false,
  outline: [
    [0, 0],
    [1500, 0],
    [1500, 700],
    [0, 700],
  ],
  clearance: 50,
  exclusions: [],
  buffer: [
    [700, 0],
    [1500, 0],
    [1500, 700],
    [700, 700],
  ],
  entry: [60, 60],
  leadIn: 0,
  priorities: [],
};

/** Rows 90 mm apart from the wall to just before the buffer, the last one leading to it. */
const rows: Point[] = Array.from({ length: 7 }, (_, k): Point[] => {
  const y = 60 + 90 * k;
  return k % 2 === 0
    ? [
        [60, y],
        [630, y],
      ]
    : [
        [630, y],
        [60, y],
      ];
}).flat();

const cable = (length: number): Cable => ({
  id: 'C',
  length,
  power: 100,
  voltage: 230,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead: 3000,
});

it.each([600, 1500, 2500, 3500, 4200])(
  'takes up %i mm of cable in the buffer when nothing else is left',
  (left) => {
    // Laid length of the rows: seven of 570 mm, six steps of 90 mm, less 12 corners of (2 - pi/2) 15 mm.
    const laid = 7 * 570 + 6 * 90 - 12 * (2 - Math.PI / 2) * 15;
    const own = cable(laid + left);
    const outcome = planRest(
      { setting, zone: corridor, cable: own, path: rows, reading: null, turnWeight: 500, effort: 'quick' },
      { engine: null, expired: () => false },
    );
    if (outcome.kind !== 'planned') throw new Error(JSON.stringify(outcome));
    expect(outcome.plan.left).toBeCloseTo(left, 6);
    expect(checkTrace(corridor, setting, own, outcome.plan.trace).ok).toBe(true);
    expect(outcome.plan.trace.path.slice(0, rows.length)).toEqual(rows);
  },
);

it('finds such ways by itself, each no nearer to the laid rows than the least spacing', () => {
  const whole = zoneSpace(corridor, setting);
  const space = restSpace(whole, studsAlong(whole.s, rows), 5000, 2);
  const { ways } = longTails(space, cable(8000), 2, 500, EFFORTS.quick[0]);
  expect(ways.length).toBeGreaterThan(0);
  for (const way of ways) {
    const points = way.map((v) => nodePoint(space.s, v));
    expect(points[0]).toEqual([630, 600]);
    for (const [x, y] of points.slice(1)) expect(x >= 630 + 60 || y >= 600).toBe(true);
  }
});
