import { describe, expect, it } from 'vitest';
import { createGlpkEngine } from '../../../solver/engines/glpk.js';
import { verifyRoute } from '../../../solver/model/grid-cost.js';
import { cornerSaving } from '../../../solver/problem.js';
import { LaneScout } from '../../../solver/search/lane-scout.js';
import { mainWindow } from '../../../solver/search/length-window.js';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { routeForLength } from '../../../solver/search/route-for-length.js';
import { type LaneRoute, routeLanes } from '../../../solver/search/route-lanes.js';
import { countTurns } from '../../../solver/search/tail.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { metres, rect, shower } from '../../helpers/shower.js';

const setting = {
  lattice: { pitch: 30, origin: [0, 0] as const },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
};

const small = shower({
  outline: rect(0, 0, 560, 560),
  exclusions: [],
  buffer: rect(0, 0, 560, 180),
  entry: [40, 520],
});

/** mm from the entry to the first node in the buffer, corners rounded. */
const mainLength = ({ studs, tail }: LaneRoute): number => {
  const upTo = studs.slice(0, studs.length - tail.nodes.length + tail.outside + 1);
  return (upTo.length - 1) * 30 - countTurns(upTo) * cornerSaving(setting.lattice);
};

describe('cable and route by one integer programme', () => {
  it('picks the one cable whose window a route can meet, and a route that meets it', async () => {
    const engine = await createGlpkEngine();
    const space = zoneSpace(small, setting);
    const any = metres(4);
    const options = {
      minGap: 2,
      wantedTail: 3000,
      maxOutside: 4,
      mipRounds: 12,
      engine,
      seconds: 5,
      expired: () => false,
    };
    const next = new LaneScout(space, mouthsOf(space, 4), 500, [any]).next([any], 60, Infinity);
    if (!next) throw new Error('no lanes');
    const known = routeLanes(space, next.choice, mouthsOf(space, 4), {
      ...options,
      turnWeight: 500,
      maxStates: 200,
      coarseNodes: 100,
      sweeps: 4,
      windowStates: 200,
      maxWindows: 60,
      flips: 0,
      exactWork: 0,
      engine: null,
      mipNodes: 0,
      mipSeconds: 0,
    });
    if (!known) throw new Error('no route');
    // A cable whose window ends 150 mm short of what the route takes, and one far beyond any route.
    const main = mainLength(known);
    const turns = known.route.turns + known.tail.turns;
    const shorter = metres((main - 150 + 2 * turns + 4) / 0.99 / 1000);
    const hopeless = metres(main / 1000 + 15);
    const [low, high] = mainWindow(space, shorter, turns, known.tail.length);
    expect(low < high && main > high).toBe(true);
    const fit = routeForLength(space, known, [hopeless, shorter], options);
    expect(fit.kind).toBe('fitted');
    if (fit.kind !== 'fitted') return;
    expect(fit.cable).toBe(shorter);
    expect(verifyRoute(fit.route.grid.task, fit.route.route.nodes)).toBeNull();
    // The way from the last lane into the buffer may differ by a stud or two and a corner.
    expect(mainLength(fit.route)).toBeGreaterThan(low - 90);
    expect(mainLength(fit.route)).toBeLessThan(high + 90);
  });
});
