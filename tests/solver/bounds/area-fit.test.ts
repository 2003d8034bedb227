import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverageBound } from '../../../solver/bounds/area.js';
import { longestFit } from '../../../solver/bounds/fit.js';
import { reachOf } from '../../../solver/bounds/reach.js';
import { AREA_TOLERANCE, segmentMargin } from '../../../solver/check/area-rule.js';
import { entryNodes } from '../../../solver/check/lattice-rules.js';
import { lineOf } from '../../../solver/check/line.js';
import { spacingRule } from '../../../solver/check/spacing-rule.js';
import { depthInRing } from '../../../solver/geometry/measure.js';
import { cornerSaving, type Zone } from '../../../solver/problem.js';
import { eachPath } from '../../helpers/lattice-paths.js';
import { cableOf, nodeAt, nodeOf, PITCH, rooms, SIDE, settingOf } from '../../helpers/small-rooms.js';

describe('longest cable that a room can hold', () => {
  it('is never beaten by any legal path in small rooms, and comes near the area rule in large ones', () => {
    let [read, close] = [0, 0];
    fc.assert(
      fc.property(rooms, ({ zone, setting }) => {
        const reach = reachOf(zone, setting);
        const most = longestFit(zone, setting, reach);
        for (const start of entryNodes(zone, setting.lattice)) {
          const open = (v: number, w: number): boolean =>
            segmentMargin(zone, nodeAt(v), nodeAt(w)) >= -AREA_TOLERANCE;
          let [longest, count] = [0, 0];
          eachPath({ nx: SIDE, ny: SIDE, open }, nodeOf(start), (nodes) => {
            count += 1;
            const path = nodes.map(nodeAt);
            const { end, corners } = lineOf({ path, reserve: [] }, PITCH / 2);
            const length = end - corners.length * cornerSaving(setting.lattice);
            if (!spacingRule(setting, lineOf({ path, reserve: [] }, PITCH / 2)).ok) return false;
            if (depthInRing(path[path.length - 1], zone.buffer) >= -0.5) longest = Math.max(longest, length);
            return count < 400;
          });
          read += 1;
          expect(longest).toBeLessThanOrEqual(most);
          if (longest > 0.6 * most) close += 1;
        }
      }),
      { seed: 62, numRuns: 150 },
    );
    expect(read).toBeGreaterThan(100);
    expect(close).toBeGreaterThan(10);
    // Area rule Wn Hn / s of the trade (derived): 2.3 x 1.7 m at 60 mm is 65.2 m.
    const zone: Zone = {
      id: 'bath',
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
        [0, 1650],
        [2400, 1650],
        [2400, 1800],
        [0, 1800],
      ],
      entry: [60, 60],
      leadIn: 0,
      priorities: [],
    };
    const most = longestFit(zone, settingOf(2, 3), reachOf(zone, settingOf(2, 3)));
    expect(most).toBeGreaterThan(65_167);
    expect(most).toBeLessThan(1.08 * 65_167);
    // A cable longer than that is left out of the sweep.
    const two = coverageBound(zone, settingOf(2, 3), [cableOf(30_000), cableOf(75_000)]);
    expect(two).toEqual({ ...coverageBound(zone, settingOf(2, 3), [cableOf(30_000)]), basis: two.basis });
    expect(two.fraction).toBeLessThan(0.86);
    expect(coverageBound(zone, settingOf(2, 3), [cableOf(30_000), cableOf(60_000)]).fraction).toBe(1);
  });
});
