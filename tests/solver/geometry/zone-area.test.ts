import { describe, expect, it } from 'vitest';
import { areaOf, contains } from '../../../solver/geometry/region.js';
import { routingArea, targetArea, withoutSlivers } from '../../../solver/geometry/zone-area.js';
import type { Zone } from '../../../solver/problem.js';

const room: Zone = {
  id: 'room',
  wet: false,
  outline: [
    [0, 0],
    [2400, 0],
    [2400, 1800],
    [0, 1800],
  ],
  clearance: 50,
  exclusions: [],
  buffer: [
    [2250, 0],
    [2400, 0],
    [2400, 1800],
    [2250, 1800],
  ],
  entry: [60, 60],
  leadIn: 0,
  priorities: [],
};

describe('routing and target area', () => {
  it('of an empty rectangle', () => {
    const routing = routingArea(room);
    expect(areaOf(routing)).toBe(2300 * 1700);
    expect(areaOf(targetArea(room, routing))).toBe(2200 * 1700);
  });

  it('lose a round exclusion with its clearance: pi (r + c)^2', () => {
    const zone: Zone = {
      ...room,
      exclusions: [
        { id: 'wc', shape: { kind: 'circle', center: [1200, 900], radius: 150 }, clearance: 50 },
        { id: 'drain', shape: { kind: 'circle', center: [600, 900], radius: 0 }, clearance: 90 },
      ],
    };
    const lost = 2300 * 1700 - areaOf(routingArea(zone));
    expect(Math.abs(lost - Math.PI * (200 ** 2 + 90 ** 2))).toBeLessThan(0.02 * 2 * Math.PI * 290);
  });

  it('lose a box across the wall, grown with round corners', () => {
    const zone: Zone = {
      ...room,
      exclusions: [
        {
          id: 'vanity',
          shape: {
            kind: 'polygon',
            outline: [
              [-100, 1300],
              [900, 1300],
              [900, 2000],
              [-100, 2000],
            ],
          },
          clearance: 30,
        },
      ],
    };
    const routing = routingArea(zone);
    // Within the inset outline: x 50..930, y 1270..1750, less the rounded corner at (900, 1300).
    const lost = 880 * 480 - (900 - (Math.PI * 900) / 4);
    expect(Math.abs(areaOf(routing) - (2300 * 1700 - lost))).toBeLessThan(2);
    expect(contains(routing, [927, 1273])).toBe(true);
    expect(contains(routing, [920, 1290])).toBe(false);
  });

  it('may be empty', () => {
    expect(routingArea({ ...room, clearance: 900 })).toEqual([]);
  });

  it('drops slivers only', () => {
    const big = [
      [0, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ] as const;
    const sliver = [
      [5, 0],
      [6, 0],
      [6, 0.5],
    ] as const;
    expect(withoutSlivers([big, sliver], 1)).toEqual([big]);
  });
});
