import fc from 'fast-check';
import { expect, it } from 'vitest';
import { longestInBuffer } from '../../../solver/bounds/fit.js';
import { AREA_TOLERANCE, segmentMargin } from '../../../solver/check/area-rule.js';
import { lineOf } from '../../../solver/check/line.js';
import { spacingRule } from '../../../solver/check/spacing-rule.js';
import { depthInRing } from '../../../solver/geometry/measure.js';
import { routingArea } from '../../../solver/geometry/zone-area.js';
import { cornerSaving } from '../../../solver/problem.js';
import { eachPath } from '../../helpers/lattice-paths.js';
import { nodeAt, PITCH, rooms, SIDE } from '../../helpers/small-rooms.js';

it('no legal stretch from stud to stud inside the buffer of a small room is longer than the bound', () => {
  let [read, close] = [0, 0];
  fc.assert(
    fc.property(rooms, fc.integer({ min: 0, max: 90 }), ({ zone: drawn, setting }, deeper) => {
      // A deeper strip than the rooms have, so that stretches turn in it.
      const buffer = drawn.buffer.map(([x, y], k) => [k === 0 || k === 3 ? x - deeper : x, y] as const);
      const zone = { ...drawn, buffer };
      const most = longestInBuffer(zone, routingArea(zone), setting);
      const inside = (v: number): boolean => depthInRing(nodeAt(v), buffer) >= -AREA_TOLERANCE;
      const open = (v: number, w: number): boolean =>
        inside(v) && inside(w) && segmentMargin(zone, nodeAt(v), nodeAt(w)) >= -AREA_TOLERANCE;
      for (let start = 0; start < SIDE * SIDE; start += 1) {
        if (!inside(start)) continue;
        let [longest, count] = [0, 0];
        eachPath({ nx: SIDE, ny: SIDE, open }, start, (nodes) => {
          count += 1;
          const line = lineOf({ path: nodes.map(nodeAt), reserve: [] }, PITCH / 2);
          if (!spacingRule(setting, line).ok) return false;
          longest = Math.max(longest, line.end - line.corners.length * cornerSaving(setting.lattice));
          return count < 100;
        });
        if (longest === 0) continue;
        read += 1;
        expect(longest).toBeLessThanOrEqual(most);
        if (longest > 0.5 * most) close += 1;
      }
    }),
    { seed: 77, numRuns: 60 },
  );
  expect(read).toBeGreaterThan(100);
  expect(close).toBeGreaterThan(5);
});
