/** Invented rooms of a few lattice nodes for exhaustive tests, and what goes with them. */
import fc from 'fast-check';
import type { Cable, Point, Setting, Zone } from '../../solver/problem.js';

export const PITCH = 30;

export const cableOf = (length: number): Cable => ({
  id: `c${length}`,
  length,
  power: 100,
  voltage: 230,
  tolerance: 0,
  diameter: 5,
  minBendRadius: 10,
  coldLead: 1000,
});

export const settingOf = (min: number, target: number): Setting => ({
  lattice: { pitch: PITCH, origin: [0, 0] },
  spacing: { min, target, max: target },
  placementSlopPerTurn: 0,
});

/** Room of 3-5 x 3-5 nodes with a cut-off corner, a hole, a buffer strip and walls at odd distances. */
export const rooms = fc
  .record({
    nx: fc.integer({ min: 3, max: 5 }),
    ny: fc.integer({ min: 3, max: 5 }),
    left: fc.integer({ min: 1, max: 40 }),
    low: fc.integer({ min: 1, max: 40 }),
    right: fc.integer({ min: 0, max: 29 }),
    high: fc.integer({ min: 0, max: 29 }),
    clearance: fc.constantFrom(0, 5, 12),
    cut: fc.integer({ min: 0, max: 70 }),
    hole: fc.option(
      fc.record({
        x: fc.integer({ min: 0, max: 150 }),
        y: fc.integer({ min: 0, max: 150 }),
        r: fc.integer({ min: 1, max: 30 }),
        round: fc.boolean(),
      }),
    ),
    strip: fc.integer({ min: 1, max: 80 }),
    entry: fc.tuple(fc.integer({ min: 0, max: 150 }), fc.integer({ min: 0, max: 150 })),
    min: fc.constantFrom(1, 2),
    target: fc.constantFrom(2, 3),
  })
  .map((room): { zone: Zone; setting: Setting } => {
    const { left, low, clearance, cut } = room;
    const x0 = -left - clearance;
    const y0 = -low - clearance;
    const x1 = (room.nx - 1) * PITCH + room.right + clearance;
    const y1 = (room.ny - 1) * PITCH + room.high + clearance;
    const corner: Point[] =
      cut > 10
        ? [
            [x1, y1 - cut],
            [x1 - cut / 2, y1],
          ]
        : [[x1, y1]];
    const zone: Zone = {
      id: 'small',
      wet: false,
      outline: [[x0, y0], [x1, y0], ...corner, [x0, y1]],
      clearance,
      exclusions: room.hole
        ? [
            {
              id: 'hole',
              shape: room.hole.round
                ? { kind: 'circle', center: [room.hole.x, room.hole.y], radius: room.hole.r }
                : {
                    kind: 'polygon',
                    outline: [
                      [room.hole.x, room.hole.y],
                      [room.hole.x + room.hole.r, room.hole.y + 5],
                      [room.hole.x, room.hole.y + 2 * room.hole.r],
                    ],
                  },
              clearance: 6,
            },
          ]
        : [],
      buffer: [
        [x1 - room.strip, y0],
        [x1, y0],
        [x1, y1],
        [x1 - room.strip, y1],
      ],
      entry: room.entry,
      leadIn: 0,
      priorities: [],
    };
    return { zone, setting: settingOf(room.min, room.target) };
  });

/** Side of the square of nodes that holds every room with a free margin all round. */
export const SIDE = 10;

/** Place of node v = j * SIDE + i, from (-60, -60) on. */
export const nodeAt = (v: number): Point => [((v % SIDE) - 2) * PITCH, (Math.floor(v / SIDE) - 2) * PITCH];

/** Node number of a place. */
export const nodeOf = (p: Point): number =>
  (Math.round(p[1] / PITCH) + 2) * SIDE + Math.round(p[0] / PITCH) + 2;
