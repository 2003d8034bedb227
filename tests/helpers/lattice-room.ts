/** Random rooms on a lattice, and what tests of the router read off it. */
import fc from 'fast-check';
import { lineOf } from '../../solver/check/line.js';
import { spacingRule } from '../../solver/check/spacing-rule.js';
import { nodePoint, type StudLattice } from '../../solver/lattice/stud-lattice.js';
import type { Point, Setting, Zone } from '../../solver/problem.js';
import { randomRooms } from './random-rooms.js';

export const spacings = fc.constantFrom(
  { min: 2, target: 3, max: 3 },
  { min: 1, target: 2, max: 3 },
  { min: 3, target: 4, max: 4 },
  { min: 2, target: 2, max: 4 },
);

export interface LatticeRoom {
  readonly zone: Zone;
  readonly setting: Setting;
}

/** Random rooms of `least`..`most` mm a side, at any pitch from 20 to 60 mm. */
export const latticeRooms = (least: number, most: number): fc.Arbitrary<LatticeRoom> =>
  fc
    .record({
      zone: randomRooms(least, most),
      pitch: fc.integer({ min: 20, max: 60 }),
      spacing: spacings,
      origin: fc.tuple(fc.integer({ min: 0, max: 59 }), fc.integer({ min: 0, max: 59 })),
      slop: fc.constantFrom(0, 2),
    })
    .map(({ zone, pitch, spacing, origin, slop }) => ({
      zone,
      setting: { lattice: { pitch, origin }, spacing, placementSlopPerTurn: slop },
    }));

/** Whether two neighbouring nodes are joined by an open channel piece. */
export const joined = (s: StudLattice, v: number, w: number): boolean => {
  const low = Math.min(v, w);
  const gap = Math.abs(v - w);
  return gap === 1 ? s.east[low] === 1 : gap === s.nx && s.north[low] === 1;
};

/** Vertices of a walk of nodes: its ends and its corners. */
export const verticesOf = (s: StudLattice, walk: ArrayLike<number>): Point[] => {
  const points: Point[] = [];
  for (let k = 0; k < walk.length; k++) {
    const straight = k > 0 && k + 1 < walk.length && walk[k] - walk[k - 1] === walk[k + 1] - walk[k];
    if (!straight) points.push(nodePoint(s, walk[k]));
  }
  return points;
};

/** Whether the judge lets the spacing of a walk of nodes pass. */
export const keepsSpacing = (setting: Setting, s: StudLattice, walk: ArrayLike<number>): boolean =>
  spacingRule(setting, lineOf({ path: verticesOf(s, walk), reserve: [] }, setting.lattice.pitch / 2)).ok;

/** Length with rounded corners of an open polyline of right angles: sharp length - (2 - pi/2) r a corner. */
export const laidLengthOf = (points: readonly Point[], pitch: number): number => {
  let length = 0;
  for (let k = 1; k < points.length; k++)
    length += Math.hypot(points[k][0] - points[k - 1][0], points[k][1] - points[k - 1][1]);
  return length - Math.max(0, points.length - 2) * (2 - Math.PI / 2) * (pitch / 2);
};
