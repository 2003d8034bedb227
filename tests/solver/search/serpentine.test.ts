import { describe, expect, it } from 'vitest';
import { SerpentineLayer } from '../../../solver/search/serpentine.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { verticesOf } from '../../helpers/lattice-room.js';
import { pathOn } from '../../helpers/random-paths.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const space = zoneSpace(roomOf({ exclusions: [] }), settingOf());
const { nx } = space.s;
const at = (x: number, y: number): number => space.start + x + y * nx;

/** A path of straight pieces through the given studs (seen from the first node). */
const through = (points: readonly [number, number][]): number[] => {
  const walk = [at(...points[0])];
  points.slice(1).forEach(([x, y], n) => {
    const [u, v] = points[n];
    const step = Math.sign(x - u) + Math.sign(y - v) * nx;
    for (let k = Math.abs(x - u) + Math.abs(y - v); k > 0; k--) walk.push(walk[walk.length - 1] + step);
  });
  return walk;
};

/** Corners of a walk in studs from the first node. */
const cornersOf = (walk: readonly number[] | null): (readonly [number, number])[] | null =>
  walk &&
  verticesOf(space.s, walk).map(([x, y]) => {
    const [x0, y0] = verticesOf(space.s, [space.start])[0];
    return [Math.round((x - x0) / 30), Math.round((y - y0) / 30)];
  });

describe('a serpentine in place of a stretch', () => {
  // Up the left side, along the top, down the right: the middle is free.
  const walk = through([
    [0, 0],
    [0, 12],
    [40, 12],
    [40, 0],
  ]);
  const layer = (a: number, b: number): SerpentineLayer => {
    const laid = new SerpentineLayer(pathOn(space, walk), space.usable);
    laid.between(a, b);
    return laid;
  };
  const last = walk.length - 1;

  it('runs as far as the walls let it', () => {
    const laid = layer(0, 12).lay({ along: 1, way: 1, lead: 0, trail: 0, gaps: [3, 3, 3, 3] });
    // Two studs short of the path's other parts.
    expect(cornersOf(laid)).toEqual([
      [0, 0],
      [38, 0],
      [38, 3],
      [0, 3],
      [0, 6],
      [38, 6],
      [38, 9],
      [0, 9],
      [0, 12],
    ]);
  });

  it('is refused where the last run would have to turn back', () => {
    expect(layer(0, 12).lay({ along: 1, way: 1, lead: 0, trail: 0, gaps: [4, 4, 4] })).toBeNull();
  });

  it('goes straight where no gap is asked for', () => {
    expect(cornersOf(layer(0, last).lay({ along: 1, way: 1, lead: 0, trail: 0, gaps: [] }))).toEqual([
      [0, 0],
      [40, 0],
    ]);
  });

  it('keeps its runs off the leg that it began with', () => {
    const laid = layer(0, last).lay({ along: 1, way: 1, lead: 12, trail: 0, gaps: [3, 3, 3, 3] });
    expect(cornersOf(laid)?.slice(0, 5)).toEqual([
      [0, 0],
      [0, 12],
      [56, 12],
      [56, 9],
      [2, 9],
    ]);
  });

  it('steps over to a narrower part of the room before a wall ends its run', () => {
    const slanted = zoneSpace(
      roomOf({
        outline: [
          [0, 0],
          [1800, 0],
          [900, 1300],
          [0, 1300],
        ],
        buffer: box(0, 1150, 1000, 1300),
      }),
      settingOf(),
    );
    const left = Array.from({ length: 13 }, (_, k) => slanted.start + k * slanted.s.nx);
    const path = pathOn(slanted, left);
    const laid = new SerpentineLayer(path, slanted.usable);
    laid.between(0, 12);
    const nodes = laid.lay({ along: 1, way: 1, lead: 0, trail: 0, gaps: [3, 3, 3, 3] });
    const ends = verticesOf(slanted.s, nodes ?? []).map(([x]) => x);
    // Both nodes of each right end lie in one column, and the upper ends further left.
    expect(ends[1]).toBe(ends[2]);
    expect(ends[5]).toBe(ends[6]);
    expect(ends[5]).toBeLessThan(ends[1]);
    expect(path.legal(0, 12, nodes ?? [])).toBe(true);
  });
});
