import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTrace } from '../../../solver/check/check-trace.js';
import { looksOf } from '../../../solver/check/looks.js';
import { planLayout } from '../../../solver/plan.js';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { shapeRoute } from '../../../solver/search/shape-route.js';
import { spine } from '../../../solver/search/spine.js';
import { buildTail } from '../../../solver/search/tail.js';
import { type ZoneSpace, zoneSpace } from '../../../solver/search/zone-space.js';
import { laidLengthOf, latticeRooms, verticesOf } from '../../helpers/lattice-room.js';
import { spineIn } from '../../helpers/random-paths.js';
import { box, cableOf, planRequest, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const OPTIONS = { turnWeight: 600, polishTrials: 3000, annealTrials: 2000 };

/** Shapes the shortest way to the buffer, with the tail behind it, for a cable of that length. */
const grown = (space: ZoneSpace, way: readonly number[], length: number, tolerance = 0.01) => {
  const minGap = space.setting.spacing.min;
  const tail = buildTail(space.s, way, {
    buffer: space.buffer,
    minGap,
    wanted: 1500,
    maxOutside: space.setting.spacing.max + 1,
    maxStates: 100,
  });
  if (!tail) return null;
  const cable = cableOf(length, { tolerance });
  const shaped = shapeRoute(space, cable, [...way, ...tail.nodes], tail, { ...OPTIONS, minGap });
  return { cable, tail, shaped };
};

describe('a route shaped for a cable', () => {
  it('is legal by the judge whenever it is said to fit, and what is missed has the right sign', () => {
    let [fitted, long, short] = [0, 0, 0];
    fc.assert(
      fc.property(latticeRooms(400, 900), fc.double({ min: 0.2, max: 4, noNaN: true }), (room, share) => {
        const start = spineIn(room);
        if (!start) return;
        const { space, way } = start;
        const least = laidLengthOf(verticesOf(space.s, way), space.s.lattice.pitch);
        const length = Math.round(share * (least + 400)) + room.zone.leadIn;
        const result = grown(space, way, length);
        if (!result) return;
        const { cable, tail, shaped } = result;
        if (shaped.kind === 'fitted') {
          fitted++;
          const check = checkTrace(room.zone, room.setting, cable, shaped.trace);
          // Bends need a wider least gap than the spacing's where the radius asks for it; that is the caller's part.
          const broken = check.rules
            .filter(({ ok, rule }) => !ok && rule !== 'bends')
            .map(({ rule }) => rule);
          expect(broken).toEqual([]);
        } else if (shaped.by > 0) {
          long++;
        } else {
          short++;
          expect(length).toBeGreaterThan(tail.length);
        }
      }),
      { seed: 113, numRuns: 100 },
    );
    expect(fitted).toBeGreaterThan(5);
    expect(long + short).toBeGreaterThan(5);
  });

  it('a way grown finger by finger still fits after the turns it gained widen the play of its end', () => {
    const space = zoneSpace(
      roomOf({ outline: box(0, 0, 1200, 1000), buffer: box(0, 850, 1200, 1000) }),
      settingOf(),
    );
    const way = spine(space, mouthsOf(space, 4)) ?? [];
    const missed = [];
    for (let length = 3000; length <= 8000; length += 250) {
      const shaped = grown(space, way, length)?.shaped;
      if (shaped?.kind !== 'fitted') missed.push([length, shaped]);
    }
    expect(missed).toEqual([]);
  });

  it('a tail that holds twice the play and 80 mm more is enough for every length', () => {
    const space = zoneSpace(
      roomOf({ outline: box(0, 0, 1200, 1000), buffer: box(0, 850, 1200, 1000) }),
      settingOf(),
    );
    const way = spine(space, mouthsOf(space, 4)) ?? [];
    const missed = [];
    for (let length = 4000; length <= 8000; length += 137) {
      const turns = 2 + Math.round(length / 400);
      const tail = grown(space, way, length)?.tail.length ?? 0;
      const play = (tail - 80) / 2 - space.setting.placementSlopPerTurn * turns;
      const shaped = grown(space, way, length, play / length)?.shaped;
      if (shaped?.kind !== 'fitted') missed.push([length, shaped]);
    }
    expect(missed).toEqual([]);
  });

  it('the same input gives the same trace', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const way = spine(space, mouthsOf(space, 4)) ?? [];
    expect(grown(space, way, 6000)).toEqual(grown(space, way, 6000));
  });

  it('a cable of less than the shortest way is missed by what the way is too long, one of the whole floor by what it is too short', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const way = spine(space, mouthsOf(space, 4)) ?? [];
    const least = laidLengthOf(verticesOf(space.s, way), 30);
    const tight = grown(space, way, 900, 0)?.shaped;
    expect(tight).toMatchObject({ kind: 'missed' });
    // The stretch that cannot move goes straight to the buffer: nothing shorter exists.
    expect(tight?.kind === 'missed' && tight.by).toBeGreaterThan(least - 900);
    const endless = grown(space, way, 400_000, 0)?.shaped;
    expect(endless?.kind === 'missed' && endless.by).toBeLessThan(-350_000);
  });

  it('a step of one stud behind the entry goes where the play of the end allows for the mm that costs', () => {
    // The window kept room for six turns that were never added: two steps stayed at the entry.
    const zone = roomOf({
      outline: box(0, 0, 3370, 2670),
      buffer: box(1830, 2520, 2880, 2670),
      entry: [3310, 60],
    });
    const catalogue = [63, 72, 82.5, 94.5].map((metres) => cableOf(1000 * metres));
    const request = planRequest(zone, { turnWeight: 1000, catalogue });
    const outcome = planLayout(request, { engine: null, expired: () => false });
    if (outcome.kind !== 'planned') throw new Error('this room can be planned');
    const setting = { ...request, lattice: outcome.lattice };
    expect(looksOf(outcome.zones[0].trace.path, setting).jogs).toBe(0);
  });
});
