/** Random rooms with slanted walls, holes that overlap walls and each other, and buffers on any side. */
import fc from 'fast-check';
import type { Exclusion, Point, Ring, Zone } from '../../solver/problem.js';
import { box } from './routing-rooms.js';

/** Rectangle with up to one of: a notch, two cut corners, a slanted wall. */
const outlineOf = (w: number, h: number, kind: number, a: number, b: number): Ring => {
  const x = Math.round(w * (0.25 + 0.5 * a));
  const y = Math.round(h * (0.25 + 0.5 * b));
  if (kind === 1)
    return [
      [0, 0],
      [w, 0],
      [w, y],
      [x, y],
      [x, h],
      [0, h],
    ];
  if (kind === 2)
    return [
      [Math.round(w * 0.3 * a), 0],
      [w, 0],
      [w, y],
      [x, h],
      [0, h],
      [0, Math.round(h * 0.3 * b)],
    ];
  if (kind === 3)
    return [
      [0, 0],
      [w, 0],
      [w, y],
      [0, h],
    ];
  return box(0, 0, w, h);
};

const bufferOn = (side: number, depth: number, w: number, h: number): Ring =>
  side === 0
    ? box(0, 0, w, depth)
    : side === 1
      ? box(w - depth, 0, w, h)
      : side === 2
        ? box(0, h - depth, w, h)
        : box(0, 0, depth, h);

/** A rectangle, rhomb or circle with its middle anywhere in the box, so that it may cross the walls. */
const holeOf = (w: number, h: number): fc.Arbitrary<Omit<Exclusion, 'id'>> =>
  fc
    .record({
      form: fc.integer({ min: 0, max: 2 }),
      x: fc.integer({ min: 0, max: w }),
      y: fc.integer({ min: 0, max: h }),
      a: fc.integer({ min: 30, max: Math.max(40, Math.round(w / 4)) }),
      b: fc.integer({ min: 30, max: Math.max(40, Math.round(h / 4)) }),
      clearance: fc.constantFrom(0, 13, 50),
    })
    .map(({ form, x, y, a, b, clearance }) => {
      const rhomb: Point[] = [
        [x - a, y],
        [x, y - b],
        [x + a, y],
        [x, y + b],
      ];
      return form === 0
        ? { shape: { kind: 'circle', center: [x, y], radius: Math.min(a, b) }, clearance }
        : {
            shape: { kind: 'polygon', outline: form === 1 ? box(x - a, y - b, x + a, y + b) : rhomb },
            clearance,
          };
    });

/** Rooms of `least`..`most` mm a side. */
export const randomRooms = (least: number, most: number): fc.Arbitrary<Zone> =>
  fc
    .record({
      w: fc.integer({ min: least, max: most }),
      h: fc.integer({ min: least, max: most }),
    })
    .chain(({ w, h }) =>
      fc
        .record({
          kind: fc.integer({ min: 0, max: 3 }),
          a: fc.double({ min: 0, max: 1, noNaN: true }),
          b: fc.double({ min: 0, max: 1, noNaN: true }),
          clearance: fc.constantFrom(0, 20, 50),
          holes: fc.array(holeOf(w, h), { maxLength: 3 }),
          side: fc.integer({ min: 0, max: 3 }),
          depth: fc.integer({ min: 60, max: 260 }),
          entry: fc.tuple(fc.integer({ min: 0, max: w }), fc.integer({ min: 0, max: h })),
          leadIn: fc.constantFrom(0, 0, 700),
        })
        .map(
          (room): Zone => ({
            id: 'room',
            wet: false,
            outline: outlineOf(w, h, room.kind, room.a, room.b),
            clearance: room.clearance,
            exclusions: room.holes.map((hole, k) => ({ id: `hole-${k}`, ...hole })),
            buffer: bufferOn(room.side, room.depth, w, h),
            entry: room.entry,
            leadIn: room.leadIn,
            priorities: [],
          }),
        ),
    );
