import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { heatOfFingers, looksOf } from '../../../solver/check/looks.js';
import type { Point } from '../../../solver/problem.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

/** A path from steps in studs: 'E12 N3 W12' at pitch 30. */
const drawn = (steps: string): Point[] => {
  let [x, y] = [50, 50];
  const path: Point[] = [[x, y]];
  for (const step of steps.split(' ')) {
    const studs = Number(step.slice(1)) * 30;
    if (step[0] === 'E') x += studs;
    if (step[0] === 'W') x -= studs;
    if (step[0] === 'N') y += studs;
    if (step[0] === 'S') y -= studs;
    path.push([x, y]);
  }
  return path;
};

/** Jogs, stairs, fingers with runs two to three studs apart. */
const looks = (steps: string, setting = settingOf()): number[] => {
  const { jogs, stairs, fingers } = looksOf(drawn(steps), setting);
  return [jogs, stairs, fingers];
};

describe('looks of a path', () => {
  it('a serpentine has none, stepped ends included', () => {
    expect(looks('E40 N3 W40 N3 E40 N2 W40')).toEqual([0, 0, 0]);
    expect(looks('E40 N3 W38 N3 E36 N3 W34 N3 E32')).toEqual([0, 0, 0]);
  });

  it('a spiral has none', () => {
    expect(looks('E40 N30 W37 S27 E34 N24')).toEqual([0, 0, 0]);
  });

  it('a step of one stud is a jog, one of the spacing is not, a spacing of one stud or not', () => {
    expect(looks('E20 N1 E20')).toEqual([1, 0, 0]);
    expect(looks('E20 N2 E20')).toEqual([0, 0, 0]);
    expect(looks('E20 N1 E20', settingOf({ spacing: { min: 1, target: 2, max: 2 } }))).toEqual([1, 0, 0]);
    expect(looks('E20 N2 E20', settingOf({ spacing: { min: 3, target: 3, max: 3 } }))).toEqual([1, 0, 0]);
  });

  it('a stair counts once however many steps it has', () => {
    expect(looks('E20 N3 E3 N20')).toEqual([0, 1, 0]);
    expect(looks('E20 N3 E3 N3 E20')).toEqual([0, 1, 0]);
    expect(looks('E20 N3 E3 N3 E3 N3 E3 N3 E20')).toEqual([0, 1, 0]);
    expect(looks('E20 N3 E3 N3 E20 N3 E3 N3 E20')).toEqual([0, 2, 0]);
    expect(looks('E20 N3 E6 N3 E20')).toEqual([0, 0, 0]);
  });

  it('a finger shorter than two spacings counts, a longer one does not', () => {
    expect(looks('E20 N5 E3 S5 E20')).toEqual([0, 0, 1]);
    expect(looks('E20 N6 E3 S6 E20')).toEqual([0, 0, 0]);
    expect(looks('E20 N20 E3 S4 E20')).toEqual([0, 0, 1]);
  });

  it('each tip of a zigzag of short fingers counts', () => {
    expect(looks('E20 N5 E3 S5 E3 N5 E3 S5 E20')).toEqual([0, 0, 3]);
  });

  it('a broad bay is no finger', () => {
    expect(looks('E20 N4 E6 S4 E20')).toEqual([0, 0, 0]);
  });

  it('the pieces at entry and end are no legs, jogs or steps', () => {
    expect(looks('E2 N3 W20 N3 E1')).toEqual([0, 0, 0]);
    expect(looks('N1 E20 N1')).toEqual([0, 0, 0]);
    expect(looks('E10')).toEqual([0, 0, 0]);
    expect(looksOf([], settingOf())).toEqual({ jogs: 0, stairs: 0, fingers: 0 });
  });

  it('depends neither on direction nor on mirroring', () => {
    const walk = fc.array(fc.tuple(fc.constantFrom('l', 'r'), fc.integer({ min: 1, max: 9 })), {
      maxLength: 14,
    });
    fc.assert(
      fc.property(walk, (steps) => {
        let heading: [number, number] = [1, 0];
        const path: Point[] = [[0, 0]];
        for (const [side, studs] of steps) {
          heading = side === 'l' ? [-heading[1], heading[0]] : [heading[1], -heading[0]];
          const [x, y] = path[path.length - 1];
          path.push([x + heading[0] * studs * 30, y + heading[1] * studs * 30]);
        }
        const setting = settingOf();
        const counted = looksOf(path, setting);
        expect(looksOf([...path].reverse(), setting)).toEqual(counted);
        expect(
          looksOf(
            path.map(([x, y]) => [y, x]),
            setting,
          ),
        ).toEqual(counted);
      }),
      { seed: 5, numRuns: 300 },
    );
  });
});

describe('the heat of short fingers', () => {
  const room = roomOf({ outline: box(0, 0, 3000, 1300), clearance: 0, buffer: box(0, 1200, 3000, 1300) });

  it('is the floor that goes cold when the cable goes straight on at the foot', () => {
    // By hand, heat radius 45: both legs warm 180 x 105 above the row, the tip 90 x 45 and two quarter discs more;
    // straight on, the row warms what lies between the feet below: 90 x 45 less two quarter discs.
    const quarters = (Math.PI * 45 ** 2) / 2;
    const own = 180 * 105 + 90 * 45 + quarters - (90 * 45 - quarters);
    const heat = heatOfFingers(room, settingOf(), drawn('E20 N5 E3 S5 E20'));
    expect(heat).toHaveLength(1);
    expect(Math.abs(heat[0] - own)).toBeLessThan(0.005 * own);
  });

  it('is nothing where runs on all sides warm the same floor', () => {
    const [heat] = heatOfFingers(room, settingOf(), drawn('E20 N2 E2 S2 E20 N2 W42'));
    expect(heat).toBeLessThan(30 * 30);
  });

  it('has an entry for every finger counted', () => {
    const path = drawn('E20 N5 E3 S5 E3 N5 E3 S5 E20');
    expect(heatOfFingers(room, settingOf(), path)).toHaveLength(looksOf(path, settingOf()).fingers);
  });
});
