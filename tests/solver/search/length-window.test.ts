import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { endPlay, lengthInZone, mainWindow } from '../../../solver/search/length-window.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { cableOf, roomOf, settingOf } from '../../helpers/routing-rooms.js';

describe('window of the main stretch', () => {
  it('every length in it keeps the end in the buffer for the shortest and the longest cable', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 4000, max: 200_000 }),
        fc.double({ min: 0, max: 0.05, noNaN: true }),
        fc.integer({ min: 0, max: 300 }),
        fc.integer({ min: 0, max: 12_000 }),
        fc.constantFrom(0, 700),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (length, tolerance, turns, tail, leadIn, share) => {
          const space = zoneSpace(roomOf({ leadIn }), settingOf({ placementSlopPerTurn: 2 }));
          const cable = cableOf(length, { tolerance });
          const [low, high] = mainWindow(space, cable, turns, tail);
          if (low > high) return;
          const main = low + share * (high - low);
          // t = tolerance x length + slop x turns, as the rule of the end says.
          const t = tolerance * length + 2 * turns;
          expect(main).toBeLessThan(length - leadIn - t);
          if (low > 0) expect(main + tail).toBeGreaterThanOrEqual(length - leadIn + t);
        },
      ),
      { seed: 97, numRuns: 60 },
    );
  });

  it('is empty when the buffer holds less than twice the play', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const cable = cableOf(50_000);
    const play = endPlay(space, cable, 40);
    expect(play).toBe(500 + 80);
    const [low, high] = mainWindow(space, cable, 40, 2 * play);
    expect(low).toBeGreaterThan(high);
    const [from, to] = mainWindow(space, cable, 40, 2 * play + 100);
    expect(to).toBeGreaterThan(from);
  });

  it('the lead-in is taken off the cable', () => {
    expect(lengthInZone(zoneSpace(roomOf({ leadIn: 1234 }), settingOf()), cableOf(20_000))).toBe(18_766);
  });
});
