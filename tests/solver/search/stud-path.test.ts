import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pointSegmentDistance } from '../../../solver/geometry/measure.js';
import { nodePoint } from '../../../solver/lattice/stud-lattice.js';
import { seeded } from '../../../solver/search/random.js';
import { Shaper } from '../../../solver/search/shaper.js';
import type { StudPath } from '../../../solver/search/stud-path.js';
import { neighbourhood, tooClose } from '../../../solver/search/stud-spacing.js';
import { type ZoneSpace, zoneSpace } from '../../../solver/search/zone-space.js';
import { joined, keepsSpacing, latticeRooms } from '../../helpers/lattice-room.js';
import { goalIn, pathOn, shake, spineIn } from '../../helpers/random-paths.js';
import { roomOf, settingOf } from '../../helpers/routing-rooms.js';

const nodesOf = (path: StudPath): Int32Array => path.nodes.slice(0, path.length);

/** Target weight of the pixels whose middles lie further than R from the heated pieces: the plain definition. */
const coldByDistance = ({ s, floor, heatRadius }: ZoneSpace, path: StudPath): number => {
  const size = s.lattice.pitch / floor.per;
  const [x0, y0] = nodePoint(s, 0);
  const points = [...nodesOf(path).subarray(0, path.heatedUpTo())].map((v) => nodePoint(s, v));
  let cold = 0;
  for (let y = 0; y < floor.height; y++)
    for (let x = 0; x < floor.width; x++) {
      const p = [x0 + (x - floor.pad + 0.5) * size, y0 + (y - floor.pad + 0.5) * size] as const;
      const heated = points.some((a, k) => k > 0 && pointSegmentDistance(p, points[k - 1], a) <= heatRadius);
      if (!heated) cold += floor.weight[y * floor.width + x];
    }
  return cold;
};

/** Corners, and straight pieces shorter than `jog` studs between corners that turn opposite ways. */
const bendsOf = (nodes: Int32Array, nx: number, jog: number): { turns: number; jogs: number } => {
  const point = (v: number) => [v % nx, Math.floor(v / nx)];
  const corners: { k: number; left: boolean }[] = [];
  for (let k = 1; k + 1 < nodes.length; k++) {
    const [[ax, ay], [bx, by], [cx, cy]] = [nodes[k - 1], nodes[k], nodes[k + 1]].map(point);
    const cross = (bx - ax) * (cy - by) - (by - ay) * (cx - bx);
    if (cross !== 0) corners.push({ k, left: cross > 0 });
  }
  const jogs = corners.filter(
    ({ k, left }, n) => n > 0 && left !== corners[n - 1].left && k - corners[n - 1].k < jog,
  );
  return { turns: corners.length, jogs: jogs.length };
};

describe('after any sequence of accepted moves', () => {
  it('the path is legal, and what it keeps account of equals a count from scratch', () => {
    let moved = 0;
    fc.assert(
      fc.property(latticeRooms(300, 1000), fc.integer(), (room, seed) => {
        const start = spineIn(room);
        if (!start) return;
        const { space, way } = start;
        const { s } = space;
        const path = pathOn(space, way);
        const shaper = new Shaper(path, goalIn(space));
        moved += shake(shaper, seeded(seed), 250, 1e9);
        const nodes = nodesOf(path);
        expect(nodes[0]).toBe(way[0]);
        expect(nodes[nodes.length - 1]).toBe(way[way.length - 1]);
        for (let k = 1; k < nodes.length; k++) {
          expect(joined(s, nodes[k - 1], nodes[k])).toBe(true);
          expect(space.usable[nodes[k]]).toBe(1);
        }
        expect(keepsSpacing(room.setting, s, nodes)).toBe(true);
        expect(path.cold).toBeCloseTo(pathOn(space, nodes, path.heatedUpTo()).cold, 1);
        const positions = new Map([...nodes].map((v, k) => [v, k]));
        for (let v = 0; v < s.free.length; v++) expect(path.positionOf(v)).toBe(positions.get(v) ?? -1);
        const { turns, jogs } = bendsOf(nodes, s.nx, shaper.goal.jogStuds);
        expect(path.turns()).toBe(turns);
        expect(path.bends(path.length, shaper.goal.jogStuds)).toEqual({ turns, jogs });
        expect(shaper.bends).toBe(turns + shaper.goal.jogTurns * jogs);
      }),
      { seed: 41, numRuns: 150 },
    );
    expect(moved).toBeGreaterThan(400);
  });

  it('cold is the target further than R from the path, pixel by pixel', () => {
    fc.assert(
      fc.property(
        latticeRooms(300, 600),
        fc.integer(),
        fc.integer({ min: 0, max: 3 }),
        (room, seed, unheated) => {
          const start = spineIn(room);
          if (!start) return;
          const path = pathOn(start.space, start.way, start.way.length - unheated);
          shake(new Shaper(path, goalIn(start.space)), seeded(seed), 60, 1e9);
          expect(path.cold).toBeCloseTo(coldByDistance(start.space, path), 1);
        },
      ),
      { seed: 43, numRuns: 40 },
    );
  });
});

describe('legal', () => {
  const space = zoneSpace(roomOf(), settingOf());
  const { nx } = space.s;
  const at = (i: number, j: number) => (space.start % nx) + i + (Math.floor(space.start / nx) + j) * nx;
  const row = (from: number, to: number, j: number) =>
    Array.from({ length: Math.abs(to - from) + 1 }, (_, k) => at(from + Math.sign(to - from) * k, j));

  it('refuses a move that comes nearer than the least gap to another run, and takes one that does not', () => {
    // Two rows five studs apart joined at the right; the lower one bulges up by one or by four studs.
    const path = pathOn(space, [
      ...row(0, 20, 0),
      at(20, 1),
      at(20, 2),
      at(20, 3),
      at(20, 4),
      ...row(20, 0, 5),
    ]);
    const bulge = (height: number) => {
      const side = Array.from({ length: height }, (_, k) => k);
      return [
        ...side.map((j) => at(4, j)),
        ...row(4, 9, height),
        ...[...side].reverse().map((j) => at(9, j)),
      ];
    };
    expect(path.legal(4, 9, bulge(1))).toBe(true);
    expect(path.legal(4, 9, bulge(3))).toBe(true);
    expect(path.legal(4, 9, bulge(4))).toBe(false);
    expect(path.legal(4, 9, bulge(5))).toBe(false);
  });

  it('refuses a U-turn tighter than the least gap, whoever drew it', () => {
    const path = pathOn(space, row(0, 20, 0));
    const tight = [at(4, 0), at(4, 1), at(4, 2), at(5, 2), at(5, 1), at(5, 0)];
    expect(path.legal(4, 5, tight)).toBe(false);
  });

  it('agrees with the judge on every proposed walk', () => {
    let [yes, no] = [0, 0];
    fc.assert(
      fc.property(latticeRooms(300, 900), fc.integer(), (room, seed) => {
        const start = spineIn(room);
        if (!start) return;
        const random = seeded(seed);
        const path = pathOn(start.space, start.way);
        const { s } = start.space;
        shake(new Shaper(path, goalIn(start.space)), random, 40, 1e9);
        for (let n = 0; n < 40; n++) {
          // A random walk between two positions: out by d, along, and back.
          const a = Math.floor(random() * (path.length - 1));
          const b = Math.min(path.length - 1, a + 1 + Math.floor(random() * 6));
          const step = [1, -1, s.nx, -s.nx][Math.floor(random() * 4)];
          const d = 1 + Math.floor(random() * 4);
          const walk: number[] = [];
          for (let r = 0; r < d; r++) walk.push(path.at(a) + r * step);
          for (let k = a; k <= b; k++) walk.push(path.at(k) + d * step);
          for (let r = d - 1; r >= 0; r--) walk.push(path.at(b) + r * step);
          const inside = walk.every(
            (v, k) => v >= 0 && v < s.free.length && (k === 0 || joined(s, walk[k - 1], v)),
          );
          if (!inside) continue;
          const whole = [...path.nodes.subarray(0, a), ...walk, ...path.nodes.subarray(b + 1, path.length)];
          const clean = new Set(whole).size === whole.length && keepsSpacing(room.setting, s, whole);
          expect(path.legal(a, b, walk)).toBe(clean);
          if (clean) yes++;
          else no++;
        }
      }),
      { seed: 47, numRuns: 120 },
    );
    expect(Math.min(yes, no)).toBeGreaterThan(20);
  });

  it('refuses to leave the routing area', () => {
    const path = pathOn(space, row(0, 20, 0));
    expect(path.legal(4, 6, [at(4, 0), at(4, -1), at(5, -1), at(6, -1), at(6, 0)])).toBe(false);
  });
});

describe('replace', () => {
  it('undoes a change that costs more than allowed', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const { nx } = space.s;
    const first = space.start;
    const path = pathOn(
      space,
      Array.from({ length: 30 }, (_, k) => first + k),
    );
    const [cold, nodes] = [path.cold, nodesOf(path)];
    const walk = [first + 5, first + 5 + nx, first + 6 + nx, first + 7 + nx, first + 7];
    expect(path.replace(5, 7, walk, -1e9)).toBe(false);
    expect(path.cold).toBe(cold);
    expect(nodesOf(path)).toEqual(nodes);
    expect(path.replace(5, 7, walk, 1e9)).toBe(true);
    expect(path.length).toBe(32);
    expect(path.heatedUpTo()).toBe(32);
  });
});

describe('tooClose', () => {
  it('agrees with the judge on random walks that do not cross themselves', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const { nx, free } = space.s;
    let [near, apart] = [0, 0];
    for (const min of [1, 2, 3]) {
      const random = seeded(min);
      for (let n = 0; n < 400; n++) {
        const walk = [space.start + 12 + 12 * nx];
        let step = 1;
        for (let k = 0; k < 24; k++) {
          if (random() < 0.3) step = [1, -1, nx, -nx][Math.floor(random() * 4)];
          const next = walk[walk.length - 1] + step;
          if (!free[next] || walk.includes(next)) break;
          walk.push(next);
        }
        const setting = settingOf({ spacing: { min, target: 3, max: 3 } });
        const clean = keepsSpacing(setting, space.s, walk);
        expect(tooClose(space.s, walk, 0, min)).toBe(!clean);
        if (clean) apart++;
        else near++;
      }
    }
    expect(Math.min(near, apart)).toBeGreaterThan(100);
  });

  it('sees a node that comes twice', () => {
    const { s, start } = zoneSpace(roomOf(), settingOf());
    expect(tooClose(s, [start, start + 1, start], 0, 1)).toBe(true);
  });
});

describe('neighbourhood', () => {
  it('holds every offset nearer than the gap once, with the path length that a right-angled corner needs', () => {
    const { s } = zoneSpace(roomOf(), settingOf());
    for (const gap of [1, 2, 3, 5]) {
      const near = neighbourhood(s, gap);
      const expected = new Map<number, number>();
      for (let x = -gap; x <= gap; x++)
        for (let y = -gap; y <= gap; y++)
          // A corner's legs x and y long join points hypot(x, y) apart by |x| + |y| <= sqrt(2) hypot(x, y).
          if ((x !== 0 || y !== 0) && x * x + y * y < gap * gap)
            expected.set(y * s.nx + x, Math.abs(x) + Math.abs(y));
      expect(new Set(near.offset)).toEqual(new Set(expected.keys()));
      expect(near.count).toBe(expected.size);
      for (let k = 0; k < near.count; k++)
        expect(near.most[k]).toBeGreaterThanOrEqual(expected.get(near.offset[k]) ?? Infinity);
    }
  });
});
