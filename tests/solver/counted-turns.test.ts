import { describe, expect, it } from 'vitest';
import { countedTurns } from '../../solver/counted-turns.js';
import type { Point } from '../../solver/problem.js';
import { settingOf } from '../helpers/routing-rooms.js';

const STRAIGHT: Point[] = [
  [50, 50],
  [1250, 50],
  [1250, 140],
  [50, 140],
];

// No source: the weights are this project's own, stated in DEVELOPERS.md.
describe('countedTurns', () => {
  it('leaves turns as they are where runs lie straight', () => {
    expect(countedTurns(2, STRAIGHT, settingOf())).toBe(2);
  });

  it('adds 24 for a step of one stud', () => {
    const jog: Point[] = [
      [50, 50],
      [650, 50],
      [650, 80],
      [1250, 80],
    ];
    expect(countedTurns(2, jog, settingOf())).toBe(26);
  });

  it('adds six for a stair, however many steps it has', () => {
    const stair: Point[] = [
      [50, 50],
      [650, 50],
      [650, 140],
      [740, 140],
      [740, 230],
      [830, 230],
      [830, 830],
    ];
    expect(countedTurns(5, stair, settingOf())).toBe(11);
  });

  it('adds two for a finger shorter than two spacings', () => {
    const finger: Point[] = [
      [50, 50],
      [650, 50],
      [650, 200],
      [740, 200],
      [740, 50],
      [1250, 50],
    ];
    expect(countedTurns(4, finger, settingOf())).toBe(6);
  });
});
