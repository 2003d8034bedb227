import { describe, expect, it } from 'vitest';
import {
  isCold,
  isFarFromPromise,
  isHopeful,
  isPromising,
  isWanting,
  type Standing,
  worthAnotherRound,
} from '../../../solver/search/standing.js';

// By hand, from the stated shares: target 1 m2, lanes promised 20 000 mm2.
const standing = (change: Partial<Standing>): Standing => ({
  score: 21_000,
  cold: 4000,
  promise: 20_000,
  total: 1_000_000,
  round: 1,
  ...change,
});

describe('whether more work is likely to pay', () => {
  it.each([
    ['as good as promised', {}, false, false],
    ['beyond 2.2 % of the target, but near the promise', { score: 29_000 }, false, false],
    ['poor, little cold', { score: 31_000 }, true, false],
    ['poor and cold', { score: 31_000, cold: 16_000 }, true, true],
    ['poor and cold, third round', { score: 31_000, cold: 16_000, round: 3 }, true, true],
    ['poor and cold, fourth round', { score: 31_000, cold: 16_000, round: 4 }, true, false],
    ['many times the promise, not poor', { score: 21_000, promise: 8000 }, false, true],
    ['many times the promise, second round', { score: 21_000, promise: 8000, round: 2 }, true, false],
    ['no layout', { score: Infinity, cold: Infinity }, true, true],
    ['no layout after two rounds', { score: Infinity, cold: Infinity, round: 2 }, true, false],
  ] as const)('%s', (_, change, wanting, again) => {
    const more = worthAnotherRound(standing(change), 4, () => 20_000);
    expect([isWanting(standing(change)), more]).toEqual([wanting, again]);
  });

  it('much floor is cold below 98 % of the target', () => {
    expect([19_999, 20_001, Infinity].map((cold) => isCold(standing({ cold })))).toEqual([false, true, true]);
  });

  it('a layout far from the promise is never the last word of a first round', () => {
    const far = [49_999, 50_000, Infinity].map((score) => standing({ score }));
    expect(far.map(isFarFromPromise)).toEqual([false, true, true]);
    expect(far.slice(1).every((one) => worthAnotherRound(one, 2, () => Infinity))).toBe(true);
    expect(isFarFromPromise(standing({ score: 50_000, round: 2 }))).toBe(false);
  });

  it('never more often than allowed', () => {
    const again = (most: number) => worthAnotherRound(standing({ score: Infinity }), most, () => 0);
    expect([1, 2].map(again)).toEqual([false, true]);
  });

  it('poor layouts are as good as it gets once routes have ruled out the lanes that promised more', () => {
    const poor = standing({ score: 31_000, cold: 16_000 });
    expect([24_000, 25_000, Infinity].map((next) => worthAnotherRound(poor, 4, () => next))).toEqual([
      true,
      false,
      false,
    ]);
  });

  it.each([
    ['a first round', { cold: 16_000 }, [true, true]],
    ['a later one', { cold: 16_000, round: 2 }, [true, false]],
    ['a later one, little cold', { cold: 14_000, round: 2 }, [true, true]],
    ['a later one, no layout', { score: Infinity, cold: Infinity, round: 2 }, [true, true]],
  ] as const)('%s: routes a little better and a little worse than the best layout', (_, change, worth) => {
    expect([20_900, 21_100].map((route) => isPromising(route, standing(change)))).toEqual(worth);
  });

  it.each([
    ['a fifth more than the best layout', {}, 25_200],
    ['two fifths more than a poor one', { score: 31_000 }, 43_400],
    ['three quarters more in later rounds', { round: 2 }, 36_750],
  ] as const)('a rough draft may cost %s', (_, change, most) => {
    expect([most - 1, most + 1].map((draft) => isHopeful(draft, standing(change)))).toEqual([true, false]);
  });
});
