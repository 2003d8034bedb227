import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { passable, type ReachedGrid } from '../../../solver/bounds/one-way.js';
import { eachPath } from '../../helpers/lattice-paths.js';

const PITCH = 30;

/** Grid from rows of text, lowest row last: '#' no node, 'S' a start, 'E' an end; neighbouring nodes are joined. */
const drawn = (floor: readonly string[]): ReachedGrid & { readonly ny: number } => {
  const wall = '#'.repeat(floor[0]?.length ?? 0);
  const rows = [wall, ...floor, wall].map((row) => `#${row}#`);
  const text = [...rows].reverse().join('');
  const nx = wall.length + 2;
  const node = (v: number) => v < text.length && text[v] !== '#';
  const all = Array.from(text, (_, v) => v);
  const starts = all.filter((v) => text[v] === 'S');
  const east = Uint8Array.from(all, (v) => ((v + 1) % nx !== 0 && node(v) && node(v + 1) ? 1 : 0));
  const north = Uint8Array.from(all, (v) => (node(v) && node(v + nx) ? 1 : 0));
  const reached = new Uint8Array(text.length);
  const open = [...starts];
  for (const v of open) reached[v] = 1;
  for (let v = open.pop(); v !== undefined; v = open.pop())
    for (const w of [
      east[v] ? v + 1 : -1,
      v > 0 && east[v - 1] ? v - 1 : -1,
      north[v] ? v + nx : -1,
      v >= nx && north[v - nx] ? v - nx : -1,
    ])
      if (w >= 0 && !reached[w]) {
        reached[w] = 1;
        open.push(w);
      }
  const ends = Uint8Array.from(all, (v) => (text[v] === 'E' ? 1 : 0));
  return { nx, ny: rows.length, reached, east, north, starts, ends };
};

const shown = (grid: ReachedGrid, kept: Uint8Array): string[] => {
  const rows: string[] = [];
  for (let v = grid.nx; v + grid.nx < kept.length; v += grid.nx)
    rows.unshift(Array.from(kept.subarray(v + 1, v + grid.nx - 1), (k) => (k === 1 ? '.' : '#')).join(''));
  return rows;
};

/** Nodes on paths from a start to an end that keep the spacing between nodes; null when there are too many paths. */
const visited = (
  { nx, ny, east, north, starts, ends }: ReachedGrid & { readonly ny: number },
  least: number,
): Uint8Array | null => {
  const seen = new Uint8Array(nx * ny);
  const open = (v: number, w: number) => (Math.abs(v - w) === 1 ? east : north)[Math.min(v, w)] === 1;
  let count = 0;
  for (const start of starts)
    eachPath({ nx, ny, open }, start, (path) => {
      if (++count > 30_000) return false;
      const last = path.length - 1;
      const v = path[last];
      for (let k = 0; k < last - 1; k++) {
        const apart =
          Math.hypot((path[k] % nx) - (v % nx), Math.floor(path[k] / nx) - Math.floor(v / nx)) * PITCH;
        if (apart < least * PITCH - 0.01 && (last - k) * PITCH > Math.SQRT2 * apart + 1) return false;
      }
      if (ends[v] === 1) for (const w of path) seen[w] = 1;
      return true;
    });
  return count > 30_000 ? null : seen;
};

describe('floor behind a neck', () => {
  it('a passage of two channels is one-way for runs two studs apart, one of three is not', () => {
    const through = drawn(['...#...', 'S.....E', '...#...']);
    expect(shown(through, passable(through, PITCH, 2))).toEqual(['...#...', '.......', '...#...']);
    const pocket = drawn(['E..#...', '.......', 'S......']);
    expect(shown(pocket, passable(pocket, PITCH, 2))).toEqual(['...####', '....###', '....###']);
    const wide = drawn(['E......', '.......', 'S......']);
    expect(passable(wide, PITCH, 2)).toEqual(wide.reached);
    // Three studs apart: a path that leaves the first column cannot come back to it.
    expect(shown(wide, passable(wide, PITCH, 3))).toEqual(['.######', '.######', '.######']);
  });

  it('with runs one stud apart only a single channel is', () => {
    const pocket = drawn(['E..#...', '.......', 'S......']);
    expect(passable(pocket, PITCH, 1)).toEqual(pocket.reached);
    const single = drawn(['E..#...', '.......', 'S..#...']);
    expect(shown(single, passable(single, PITCH, 1))).toEqual(['...####', '...####', '...####']);
  });

  it('where no end is reached all stays', () => {
    const grid = drawn(['S.#E', '..#.']);
    expect(passable(grid, PITCH, 2)).toEqual(grid.reached);
  });

  it('no path that keeps the spacing visits what is left out, in thousands of small grids', () => {
    let [read, cut, exact] = [0, 0, 0];
    const cells = fc.array(fc.constantFrom('.', '.', '.', '.', '#'), { minLength: 30, maxLength: 30 });
    const place = fc.nat(29);
    fc.assert(
      fc.property(cells, place, place, place, fc.constantFrom(1, 2, 3), (floor, s, e, f, least) => {
        const text = floor.map((cell, v) => (v === s ? 'S' : v === e || v === f ? 'E' : cell));
        const grid = drawn([0, 6, 12, 18, 24].map((k) => text.slice(k, k + 6).join('')));
        const kept = passable(grid, PITCH, least);
        const seen = visited(grid, least);
        if (!seen?.includes(1)) return;
        read++;
        expect(seen.findIndex((there, v) => there === 1 && kept[v] === 0)).toBe(-1);
        if (kept.some((there, v) => there < grid.reached[v])) cut++;
        if (kept.every((there, v) => there === seen[v])) exact++;
      }),
      { seed: 301, numRuns: 6000 },
    );
    expect(read).toBeGreaterThan(3000);
    expect(cut).toBeGreaterThan(1500);
    expect(exact).toBeGreaterThan(300);
  });
});
