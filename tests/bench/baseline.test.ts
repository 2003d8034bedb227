import { describe, expect, it } from 'vitest';
import { plainSerpentine } from '../../bench/baseline.js';
import type { Point, Ring, Setting, Zone } from '../../solver/problem.js';

/** s = 75 mm as three studs of 25 mm; channels begin at the clearance line. */
const setting: Setting = {
  lattice: { pitch: 25, origin: [50, 50] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
};

const rect = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const room = (width: number, height: number, buffer: Ring, entry: Point = [50, 50]): Zone => ({
  id: 'plain',
  wet: false,
  outline: rect(0, 0, width, height),
  clearance: 50,
  exclusions: [],
  buffer,
  entry,
  leadIn: 0,
  priorities: [],
});

/** Corner length (2 - pi/2) r at r = 12.5 mm (derived). */
const SAVING = 0.4292036732 * 12.5;

describe('plain serpentine on an empty rectangle', () => {
  it('N Wn + (N-1) s, N = floor(Hn/s) + 1: W 2.0, H 1.5, clearance 0.05, s 0.075 -> N 19, 37.450 m (derived)', () => {
    // The buffer holds the strip that rows leave cold, so that rows and columns heat alike and rows come first.
    const plain = plainSerpentine(room(2000, 1500, rect(0, 1390, 2000, 1500)), setting);
    expect(plain.turns).toBe(2 * (19 - 1));
    expect(plain.length + plain.turns * SAVING).toBeCloseTo(37_450, 3);
    expect(plain.coverage).toBe(1);
    expect(plain.endsInBuffer).toBe(true);
  });

  it('the same formula with the sides exchanged where columns heat more: N 26, 38.275 m (derived)', () => {
    const plain = plainSerpentine(room(2000, 1500, rect(0, 0, 50, 50)), setting);
    expect(plain.turns).toBe(2 * (26 - 1));
    expect(plain.length + plain.turns * SAVING).toBeCloseTo(26 * 1400 + 25 * 75, 3);
    expect(plain.endsInBuffer).toBe(false);
  });

  it('leaves cold what is beyond half a spacing of the last run', () => {
    // 1925 = 25 s + 50 and 1400 = 18 s + 50: a strip of 50 - 37.5 mm stays cold either way, the narrower share by columns.
    const plain = plainSerpentine(room(2025, 1500, rect(0, 0, 50, 50)), setting);
    expect(plain.coverage).toBeCloseTo(1 - 12.5 / 1925, 5);
  });

  it('is nothing where no channel lies in the room', () => {
    expect(plainSerpentine(room(90, 90, rect(0, 0, 50, 50)), setting)).toEqual({
      coverage: 0,
      turns: 0,
      length: 0,
      endsInBuffer: false,
    });
  });
});
