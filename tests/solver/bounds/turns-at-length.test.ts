import { describe, expect, it } from 'vitest';
import { fewestTurns } from '../../../solver/bounds/turns.js';
import { fewestTurnsAtLength, type LengthCondition } from '../../../solver/bounds/turns-at-length.js';
import { hasEdge } from '../../../solver/model/grid-cost.js';
import type { GridTask } from '../../../solver/model/grid-task.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

const SAVING = 6.4;

/** Laid length and turns of every path that visits all nodes. */
function coveringPaths(
  task: GridTask,
  { east, north }: Pick<LengthCondition, 'east' | 'north'>,
): { turns: number; length: number }[] {
  const size = task.present.length;
  const total = task.present.reduce((sum, there) => sum + there, 0);
  const found: { turns: number; length: number }[] = [];
  const seen = new Uint8Array(size);
  const walk = (v: number, before: number, count: number, turns: number, length: number): void => {
    if (count === total) {
      if (Number.isFinite(task.endCost[v])) found.push({ turns, length: length - turns * SAVING });
      return;
    }
    if (count > 1 && task.endOnly[v] === 1) return;
    seen[v] = 1;
    for (const step of [1, -1, task.nx, -task.nx]) {
      const u = v + step;
      if (u < 0 || u >= size || seen[u] === 1 || !hasEdge(task, v, u)) continue;
      const low = Math.min(u, v);
      const bend = before !== 0 && step !== before ? 1 : 0;
      walk(
        u,
        step,
        count + 1,
        turns + bend,
        length + (task.nx > 1 && Math.abs(step) === 1 ? east[low] : north[low]),
      );
    }
    seen[v] = 0;
  };
  walk(task.start, 0, 1, 0, 0);
  return found;
}

/** Lengths of edges between random columns and rows, mm. */
function randomLengths(task: GridTask, random: () => number): Pick<LengthCondition, 'east' | 'north'> {
  const gap = () => 60 + 30 * Math.floor(random() * 3);
  const columns = Array.from({ length: task.nx }, gap);
  const rows = Array.from({ length: Math.ceil(task.present.length / task.nx) }, gap);
  return {
    east: Float64Array.from(task.present, (_, v) => columns[v % task.nx]),
    north: Float64Array.from(task.present, (_, v) => rows[Math.floor(v / task.nx)]),
  };
}

describe('bound on turns at a length', () => {
  // Oracle: enumeration of all covering paths.
  it.each([1, 2, 3])(
    'never exceeds the fewest turns of a covering path of such a length, seed %d',
    (seed) => {
      const random = seeded(seed);
      let covering = 0;
      let sharper = 0;
      for (let k = 0; k < 700; k++) {
        const task = randomGridTask(random, 5, 18);
        const lengths = randomLengths(task, random);
        const paths = coveringPaths(task, lengths);
        const pick = paths[Math.floor(random() * paths.length)]?.length ?? 1000;
        const least = pick - random() * 40;
        const most = pick + random() * 40;
        const condition = { ...lengths, cornerSaving: SAVING, least, most };
        const truth = Math.min(
          ...paths.filter(({ length }) => length >= least && length <= most).map(({ turns }) => turns),
        );
        const bound = fewestTurnsAtLength(task, condition, 60);
        expect(bound, `task ${k}`).toBeLessThanOrEqual(truth);
        if (paths.length === 0) continue;
        covering++;
        const all = { ...task, skipCost: task.skipCost.map(() => Number.POSITIVE_INFINITY) };
        if (bound > fewestTurns(all)) sharper++;
      }
      expect(covering).toBeGreaterThan(60);
      expect(sharper).toBeGreaterThan(10);
    },
  );

  it('a rectangle with wide gaps between its rows: the longest way is across all of them, by hand', () => {
    // 3 rows of 6, rows 300 mm apart, columns 60: along the rows 4 turns and 15 x 60 + 2 x 300 mm; up and down the
    // columns 10 turns and 5 x 60 + 12 x 300 mm. Nothing that visits all 18 nodes is longer than the latter.
    const task = gridTask(6, 3);
    const size = task.present.length;
    const lengths = { east: new Float64Array(size).fill(60), north: new Float64Array(size).fill(300) };
    const sharp = 5 * 60 + 12 * 300;
    const at = (least: number, most: number) =>
      fewestTurnsAtLength(task, { ...lengths, cornerSaving: SAVING, least, most }, 200);
    expect(at(0, 1e6)).toBe(4);
    expect(at(sharp - 10 * SAVING, 1e6)).toBe(10);
    expect(at(0, 15 * 60 + 2 * 300)).toBe(4);
  });

  it('a single node turns nowhere', () => {
    const one = gridTask(1, 1);
    const none = new Float64Array(1);
    expect(
      fewestTurnsAtLength(one, { east: none, north: none, cornerSaving: 6, least: 0, most: 9 }, 10),
    ).toBe(0);
  });
});
