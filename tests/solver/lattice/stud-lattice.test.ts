import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { routingArea } from '../../../solver/geometry/zone-area.js';
import { nearestFree, nodePoint, reachable, studLattice } from '../../../solver/lattice/stud-lattice.js';
import type { Point } from '../../../solver/problem.js';
import { randomRooms } from '../../helpers/random-rooms.js';
import { depthInRoom } from '../../helpers/room-depth.js';
import { box } from '../../helpers/routing-rooms.js';

const RUNS = { seed: 20_240_501, numRuns: 120 };

/** Nodes nearer to the limit than this (mm) may go either way: the rules themselves allow half a millimetre. */
const DOUBT = 0.5;

const phases = fc.record({
  zone: randomRooms(200, 2000),
  pitch: fc.integer({ min: 17, max: 60 }),
  x: fc.double({ min: -60, max: 60, noNaN: true }),
  y: fc.double({ min: -60, max: 60, noNaN: true }),
});

const latticeIn = ({
  zone,
  pitch,
  x,
  y,
}: {
  zone: Parameters<typeof routingArea>[0];
  pitch: number;
  x: number;
  y: number;
}) => studLattice({ pitch, origin: [x, y] }, routingArea(zone));

/** Least depth along a channel piece, read at points 1/16 of a pitch apart. */
const leastDepth = (depth: (p: Point) => number, [ax, ay]: Point, [bx, by]: Point): number => {
  let least = Infinity;
  for (let k = 0; k <= 16; k++)
    least = Math.min(least, depth([ax + ((bx - ax) * k) / 16, ay + ((by - ay) * k) / 16]));
  return least;
};

describe('stud lattice over random rooms', () => {
  it('a node is free exactly when plain distances to walls and holes put it in the routing area', () => {
    fc.assert(
      fc.property(phases, (phase) => {
        const s = latticeIn(phase);
        const wrong: number[] = [];
        for (let v = 0; v < s.free.length; v++) {
          const depth = depthInRoom(phase.zone, nodePoint(s, v));
          if (Math.abs(depth) > DOUBT && s.free[v] !== Number(depth > 0)) wrong.push(v);
        }
        expect(wrong).toEqual([]);
      }),
      RUNS,
    );
  });

  it('no place in the routing area lies on a node that the lattice leaves out', () => {
    fc.assert(
      fc.property(phases, (phase) => {
        const s = latticeIn(phase);
        const { pitch, x, y } = phase;
        const wrong: [number, number][] = [];
        const last = (n: number) => Math.ceil(n / pitch) + 1;
        for (let i = -3; i <= last(2000); i++)
          for (let j = -3; j <= last(2000); j++) {
            if (depthInRoom(phase.zone, [x + i * pitch, y + j * pitch]) <= DOUBT) continue;
            const [u, w] = [i - s.i0, j - s.j0];
            if (u <= 0 || w <= 0 || u >= s.nx - 1 || w >= s.ny - 1) wrong.push([i, j]);
          }
        expect(wrong).toEqual([]);
      }),
      { ...RUNS, numRuns: 60 },
    );
  });

  it('a channel piece is open exactly when all of it lies in the routing area', () => {
    fc.assert(
      fc.property(phases, (phase) => {
        const s = latticeIn(phase);
        const depth = (p: Point) => depthInRoom(phase.zone, p);
        const wrong: [number, number][] = [];
        for (let v = 0; v < s.free.length; v++)
          for (const [open, w] of [
            [s.east[v], v + 1],
            [s.north[v], v + s.nx],
          ]) {
            if (w >= s.free.length || (open === 0 && !(s.free[v] && s.free[w]))) continue;
            if (w === v + 1 && w % s.nx === 0) continue;
            const least = leastDepth(depth, nodePoint(s, v), nodePoint(s, w));
            // Between two samples the depth falls by at most half their distance.
            const right = open === 1 ? least > -DOUBT : least < DOUBT + phase.pitch / 32;
            if (!right) wrong.push([v, least]);
          }
        expect(wrong).toEqual([]);
      }),
      RUNS,
    );
  });

  it('the rim is never free, so every neighbour of a free node exists', () => {
    fc.assert(
      fc.property(phases, (phase) => {
        const { nx, ny, free, east, north } = latticeIn(phase);
        const wrong: number[] = [];
        for (let v = 0; v < nx * ny; v++) {
          const [i, j] = [v % nx, Math.floor(v / nx)];
          const rim = i === 0 || j === 0 || i === nx - 1 || j === ny - 1;
          if (
            (rim && free[v]) ||
            (east[v] && !(free[v] && free[v + 1])) ||
            (north[v] && !(free[v] && free[v + nx]))
          )
            wrong.push(v);
        }
        expect(wrong).toEqual([]);
      }),
      RUNS,
    );
  });

  it('reachable is what flooding from node to node along open pieces gives', () => {
    fc.assert(
      fc.property(phases, (phase) => {
        const s = latticeIn(phase);
        const start = nearestFree(s, phase.zone.entry);
        const expected = new Uint8Array(s.free.length);
        if (start >= 0) expected[start] = 1;
        for (let grown = true; grown; ) {
          grown = false;
          const join = (v: number, w: number): void => {
            if (expected[v] === expected[w]) return;
            expected[v] = 1;
            expected[w] = 1;
            grown = true;
          };
          for (let v = 0; v < s.free.length; v++) {
            if (s.east[v]) join(v, v + 1);
            if (s.north[v]) join(v, v + s.nx);
          }
        }
        expect(reachable(s, start)).toEqual(expected);
      }),
      { ...RUNS, numRuns: 60 },
    );
  });

  it('nearestFree has no nearer free node', () => {
    fc.assert(
      fc.property(phases, (phase) => {
        const s = latticeIn(phase);
        const [x, y] = phase.zone.entry;
        const found = nearestFree(s, [x, y]);
        const away = (v: number) => Math.hypot(nodePoint(s, v)[0] - x, nodePoint(s, v)[1] - y);
        const nodes = [...s.free.keys()].filter((v) => s.free[v] === 1);
        expect(found >= 0).toBe(nodes.length > 0);
        if (found < 0) return;
        expect(s.free[found]).toBe(1);
        expect(away(found)).toBeLessThanOrEqual(Math.min(...nodes.map(away)) + 1e-9);
      }),
      RUNS,
    );
  });
});

describe('stud lattice, special cases', () => {
  it('an empty area has no free node, and nothing is nearest or reachable', () => {
    const s = studLattice({ pitch: 30, origin: [0, 0] }, []);
    expect(s.free).toEqual(new Uint8Array(1));
    expect(nearestFree(s, [0, 0])).toBe(-1);
    expect(reachable(s, -1)).toEqual(new Uint8Array(1));
  });

  it('nodes exactly on the edge of the area are free', () => {
    const s = studLattice({ pitch: 30, origin: [0, 0] }, [box(0, 0, 90, 60)]);
    expect([s.nx, s.ny]).toEqual([6, 5]);
    expect(s.free.reduce((n, f) => n + f, 0)).toBe(12);
    expect(s.east.reduce((n, f) => n + f, 0)).toBe(9);
    expect(s.north.reduce((n, f) => n + f, 0)).toBe(8);
  });

  it('a wall thinner than the pitch parts two channels', () => {
    const s = studLattice({ pitch: 30, origin: [0, 0] }, [box(0, 0, 40, 60), box(50, 0, 90, 60)]);
    expect(s.free.reduce((n, f) => n + f, 0)).toBe(12);
    expect(s.east.reduce((n, f) => n + f, 0)).toBe(6);
  });

  it('keeps the same nodes a kilometre from the origin', () => {
    const near = studLattice({ pitch: 30, origin: [7, 11] }, [box(0, 0, 900, 600)]);
    const far = studLattice({ pitch: 30, origin: [7, 11] }, [box(999_990, 999_990, 1_000_890, 1_000_590)]);
    expect([far.nx, far.ny]).toEqual([near.nx, near.ny]);
    expect(far.free).toEqual(near.free);
    expect(far.east).toEqual(near.east);
    expect(far.north).toEqual(near.north);
  });
});
