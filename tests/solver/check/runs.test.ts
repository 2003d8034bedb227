import { describe, expect, it } from 'vitest';
import { checkTrace } from '../../../solver/check/check-trace.js';
import { cableAt, earliestAt, latestAt, lineOf, pointAt, stretch } from '../../../solver/check/line.js';
import { runsOf } from '../../../solver/check/runs.js';
import type { Point, Setting } from '../../../solver/problem.js';
import * as good from '../../helpers/good-layout.js';

describe('lengths of a serpentine on an empty rectangle', () => {
  it('N Wn + (N-1) s sharp; W 2.0, H 1.5, clearance 0.05, s 0.075 -> N 19, 37.450 m (derived)', () => {
    const [Wn, Hn, s] = [1900, 1400, 75];
    const N = Math.floor(Hn / s) + 1;
    expect(N).toBe(19);
    const path: Point[] = [];
    for (let k = 0; k < N; k += 1) {
      const [from, to] = k % 2 === 0 ? [50, 50 + Wn] : [50 + Wn, 50];
      path.push([from, 50 + k * s], [to, 50 + k * s]);
    }
    const setting: Setting = { ...good.setting, lattice: { pitch: 25, origin: [0, 0] } };
    const { length } = checkTrace(good.zone, setting, good.cable, { path, reserve: [] });
    expect(length.sharp).toBeCloseTo(37_450, 6);
    expect(length.turns).toBe(2 * (N - 1));
    // Corner of radius r saves (2 - pi/2) r = 0.42920 r (derived).
    expect(length.cornerSaving / length.turns).toBeCloseTo(0.4292 * 12.5, 3);
    expect(length.path).toBeCloseTo(37_450 - 36 * 0.42920367 * 12.5, 4);
  });

  it('0.42920 r: r 15 -> 6.438 mm; r 20 -> 8.584 mm, 60 corners 0.515 m (derived)', () => {
    for (const [pitch, saving] of [
      [30, 6.438],
      [40, 8.584],
    ]) {
      const line = lineOf(
        {
          path: [
            [0, 0],
            [400, 0],
            [400, 400],
          ],
          reserve: [],
        },
        pitch / 2,
      );
      expect(line.corners[0].saving).toBeCloseTo(saving, 3);
    }
    const stairs = Array.from(
      { length: 62 },
      (_, k): Point => [Math.ceil(k / 2) * 40, Math.floor(k / 2) * 40],
    );
    const { corners } = lineOf({ path: stairs, reserve: [] }, 20);
    expect(corners).toHaveLength(60);
    expect(corners.reduce((sum, { saving }) => sum + saving, 0)).toBeCloseTo(515, 0);
  });
});

describe('run table', () => {
  it('accounts for all cable, corners rounded, lead-in first', () => {
    const runs = runsOf(good.trace.path, good.setting.lattice, 500);
    expect(runs).toHaveLength(2 * good.RUNS - 1);
    expect(runs[0]).toEqual({
      n: 1,
      from: [60, 60],
      to: [1440, 60],
      studs: 46,
      length: 1380,
      cumulative: 1880,
    });
    expect(runs[1]).toMatchObject({ n: 2, studs: 3, length: 90 });
    expect(runs[1].cumulative).toBeCloseTo(1970 - good.SAVING, 9);
    expect(runs.at(-1)).toMatchObject({ studs: Math.floor(good.LAST_RUN / 30), length: good.LAST_RUN });
    expect(runs.at(-1)?.cumulative).toBeCloseTo(500 + good.cable.length, 6);
    expect(runs.reduce((sum, { length }) => sum + length, 0)).toBeCloseTo(good.sharpLength, 6);
  });

  it('joins straight vertices and takes an empty path', () => {
    expect(
      runsOf(
        [
          [0, 0],
          [30, 0],
          [30, 0],
          [90, 0],
          [90, 30],
        ],
        good.setting.lattice,
      ),
    ).toMatchObject([{ studs: 3 }, { studs: 1 }]);
    expect(runsOf([], good.setting.lattice)).toEqual([]);
  });
});

describe('walking the line by cable length', () => {
  const line = lineOf(
    {
      path: [
        [0, 0],
        [300, 0],
        [300, 90],
        [0, 90],
      ],
      reserve: [],
    },
    15,
  );

  it('finds the position of a length, the wider one where a corner leaves two', () => {
    for (const cable of [0, 10, 150, 299, 310, 340, 388, 400, 600, 677]) {
      const [early, late] = [earliestAt(line, 0, cable) ?? -1, latestAt(line, 0, cable) ?? -1];
      expect(early).toBeLessThanOrEqual(late);
      expect(late - early).toBeLessThanOrEqual(good.SAVING + 1e-9);
      expect(cableAt(line, 0, early)).toBeCloseTo(cable, 6);
      expect(cableAt(line, 0, late)).toBeCloseTo(cable, 6);
    }
    expect(earliestAt(line, 0, 298)).toBeCloseTo(298, 9);
    expect(latestAt(line, 0, 298)).toBeCloseTo(298 + good.SAVING, 9);
    expect(latestAt(line, 0, 690 - 2 * good.SAVING + 0.1)).toBeNull();
    expect(earliestAt(line, 0, 690 - 2 * good.SAVING + 0.1)).toBeNull();
    expect(earliestAt(line, 40, 20)).toBe(0);
    expect(latestAt(line, 40, 20)).toBe(0);
  });

  it('cuts out stretches', () => {
    expect(pointAt(line, 345)).toEqual([300, 45]);
    expect(pointAt(line, -5)).toEqual([0, 0]);
    expect(pointAt(line, 9999)).toEqual([0, 90]);
    expect(stretch(line, 290, 410)).toEqual([
      [290, 0],
      [300, 0],
      [300, 90],
      [280, 90],
    ]);
    expect(stretch(line, 50, 50)).toEqual([[50, 0]]);
  });
});
