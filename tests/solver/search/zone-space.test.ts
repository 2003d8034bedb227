import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { passable } from '../../../solver/bounds/one-way.js';
import { depthInRing } from '../../../solver/geometry/measure.js';
import { areaOf } from '../../../solver/geometry/region.js';
import { nodePoint } from '../../../solver/lattice/stud-lattice.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { latticeRooms } from '../../helpers/lattice-room.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

describe('zone made ready for the search', () => {
  it('every reachable node is buffer, or usable, or behind a neck; the start is usable', () => {
    fc.assert(
      fc.property(latticeRooms(200, 1500), ({ zone, setting }) => {
        const { reach, buffer, usable, start, s } = zoneSpace(zone, setting);
        const { east, north, nx } = s;
        const grid = { nx, reached: reach, east, north, starts: [start], ends: buffer };
        const way = passable(grid, setting.lattice.pitch, setting.spacing.min);
        const wrong = [...reach.keys()].filter((v) => usable[v] !== (buffer[v] ? 0 : reach[v] & way[v]));
        expect(wrong).toEqual([]);
        if (start >= 0) expect(usable[start]).toBe(1);
        else expect(s.free.includes(1)).toBe(false);
      }),
      { seed: 107, numRuns: 120 },
    );
  });

  it('floor behind a passage that one run fills is not usable', () => {
    // 20 mm are left between cupboard and wall once the wall's clearance is kept.
    const zone = roomOf({
      outline: box(0, 0, 3000, 1300),
      buffer: box(0, 1150, 1400, 1300),
      exclusions: [
        { id: 'cupboard', shape: { kind: 'polygon', outline: box(1500, 0, 1800, 1230) }, clearance: 0 },
      ],
    });
    const { reach, usable, s } = zoneSpace(zone, settingOf());
    const beyond = [...reach.keys()].filter((v) => reach[v] === 1 && nodePoint(s, v)[0] > 1800);
    expect(beyond.length).toBeGreaterThan(1000);
    expect(beyond.filter((v) => usable[v] === 1)).toEqual([]);
  });

  it('buffer nodes lie in the buffer; with the entry outside it, all reachable ones in it are buffer nodes', () => {
    fc.assert(
      fc.property(latticeRooms(200, 1500), ({ zone, setting }) => {
        const { s, reach, buffer, start } = zoneSpace(zone, setting);
        if (start < 0) return;
        const depth = (v: number) => depthInRing(nodePoint(s, v), zone.buffer);
        const outside = depth(start) < -0.5;
        const wrong: number[] = [];
        for (let v = 0; v < reach.length; v++) {
          if (buffer[v] && depth(v) < -0.5) wrong.push(v);
          if (outside && reach[v] && !buffer[v] && depth(v) > 0.5) wrong.push(v);
        }
        expect(wrong).toEqual([]);
      }),
      { seed: 109, numRuns: 120 },
    );
  });

  it('an entry inside a deep buffer leaves floor to it and buffer to the end', () => {
    const space = zoneSpace(roomOf({ buffer: box(0, 0, 1800, 1300), entry: [60, 60] }), settingOf());
    expect(space.usable[space.start]).toBe(1);
    expect(space.usable.reduce((n, u) => n + u, 0)).toBeGreaterThan(1);
    expect(space.buffer.reduce((n, b) => n + b, 0)).toBeGreaterThan(1);
  });

  it('areas are those of plain arithmetic in an upright room', () => {
    const space = zoneSpace(roomOf(), settingOf());
    // Routing area 1700 x 1200, buffer from y = 1150 to the inset wall at 1250.
    expect(areaOf(space.routing)).toBeCloseTo(1700 * 1200, 3);
    expect(space.bufferArea).toBeCloseTo(1700 * 100, 3);
    expect(areaOf(space.target)).toBeCloseTo(1700 * 1100, 3);
    expect(space.heatRadius).toBe(45);
  });

  it('a room without a stud has no start', () => {
    const { start, usable } = zoneSpace(roomOf({ outline: box(0, 0, 99, 99) }), settingOf());
    expect(start).toBe(-1);
    expect([...usable]).toEqual([0]);
  });
});
