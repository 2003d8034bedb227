import { describe, expect, it } from 'vitest';
import { checkTrace } from '../../solver/check/check-trace.js';
import { choose, legalLayouts } from '../../solver/choose.js';
import { EFFORTS } from '../../solver/search/effort.js';
import { type Found, searchZone } from '../../solver/search/search-zone.js';
import { zoneSpace } from '../../solver/search/zone-space.js';
import { box, catalogueOf, roomOf, settingOf } from '../helpers/routing-rooms.js';

const TURN_WEIGHT = 600;

const space = zoneSpace(
  roomOf({ outline: box(0, 0, 1000, 800), buffer: box(0, 650, 1000, 800) }),
  settingOf(),
);

const { found } = searchZone(space, catalogueOf(3000, 12_000, 1.12), {
  turnWeight: TURN_WEIGHT,
  budgets: EFFORTS.quick,
  engine: null,
  each: true,
  expired: () => false,
});

const objectives = (all: readonly Found[]) =>
  legalLayouts(space, all, TURN_WEIGHT).map(({ found: { cable }, objective }): [string, number] => [
    cable.id,
    objective,
  ]);

describe('layouts that may be chosen', () => {
  it('are the legal ones, best first, and what the checker refuses is none', () => {
    const [best] = found;
    const broken = { ...best, trace: { ...best.trace, path: best.trace.path.slice(0, -1) } };
    expect(checkTrace(space.zone, space.setting, broken.cable, broken.trace).ok).toBe(false);
    const legal = legalLayouts(space, [broken, ...found], TURN_WEIGHT);
    expect(legal.length).toBeGreaterThan(1);
    expect(legal.every(({ check }) => check.ok)).toBe(true);
    expect(legal.map(({ objective }) => objective)).toEqual(
      legal.map(({ objective }) => objective).sort((a, b) => a - b),
    );
    expect(choose(space, legal, undefined)).toBe(legal[0]);
  });

  it('are not those two hundredths of the floor worse than one of the same cable that may be chosen', () => {
    const [best] = found;
    const [[, objective]] = objectives([best]);
    const scored = (share: number) => ({ ...best, score: objective + share * space.floor.total });
    expect(objectives([best, scored(0.019)])).toHaveLength(2);
    expect(objectives([best, scored(0.021)])).toHaveLength(1);
    // No other cable is measured by it, and no layout by one that is not legal.
    const other = found.find(({ cable }) => cable.id !== best.cable.id);
    if (!other) throw new Error('one cable only');
    expect(objectives([best, { ...other, score: scored(0.5).score }])).toHaveLength(2);
    const broken = { ...best, trace: { ...best.trace, path: best.trace.path.slice(0, -1) } };
    expect(objectives([broken, scored(0.5)])).toHaveLength(1);
  });

  it('what less effort chose is not lost for a layout that more effort finds', () => {
    const [best] = found;
    const [[, objective]] = objectives([best]);
    const early = { ...best, score: objective + 0.03 * space.floor.total };
    expect(objectives([best, early])).toHaveLength(1);
    expect(objectives([{ ...best, level: 1 }, early])).toHaveLength(2);
  });

  it('a layout outside the limits of heat density rules out no worse one: that heats less floor, and each part of it more', () => {
    const limited = {
      ...space,
      zone: { ...space.zone, heatDensity: { target: null, least: 1e4, most: null } },
    };
    const [best] = found;
    const worse = { ...best, score: best.score + space.floor.total };
    const legal = legalLayouts(limited, [best, worse], TURN_WEIGHT);
    expect(legal.map(({ beyond }) => beyond < 0)).toEqual([true, true]);
  });
});
