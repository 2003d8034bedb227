import { describe, expect, it } from 'vitest';
import { type GridEntry, verdictOnGrids, verdictOnRooms } from '../../bench/peers-verdict.js';

const entry = (room: string, method: string, cost: number, proven: boolean, seconds: number): GridEntry => ({
  room,
  method,
  cost,
  proven,
  seconds,
  nodes: Int32Array.of(0),
  turns: 0,
  bound: proven ? cost : 0,
});

describe('who wins', () => {
  it('names every room lost as well as every room won', () => {
    const entries = [
      entry('a', 'mine', 10, true, 1),
      entry('a', 'other', 10, true, 0.5),
      entry('b', 'mine', 12, false, 9),
      { ...entry('b', 'other', 11, false, 9), bound: 7 },
      entry('c', 'mine', 5, true, 1),
      entry('c', 'other', Number.POSITIVE_INFINITY, false, 10),
    ];
    expect(verdictOnGrids(entries, 'mine')).toEqual([
      '- The mine search against other: loses on cost in: b; wins on cost in: c; weaker bound in: b; proof clearly later or missing in: a; proof clearly sooner in: c.',
    ]);
  });

  it('takes small differences of time for noise', () => {
    const entries = [entry('a', 'mine', 10, true, 0.09), entry('a', 'other', 10, true, 0.02)];
    expect(verdictOnGrids(entries, 'mine')[0]).toContain('later or missing in: none');
  });

  it('admits where the plain serpentine heats more', () => {
    const rooms = [
      { room: 'a', plain: 0.9, planned: 0.99 },
      { room: 'b', plain: 0.95, planned: 0.94 },
      { room: 'c', plain: 0.5, planned: null },
    ];
    expect(verdictOnRooms(rooms)).toEqual([
      '- The whole planner heats less than the plain serpentine in: b (by 1.00 points), c (no layout).',
    ]);
  });
});
