import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dimensionMarks } from '../../../service/papers/dimensions.js';
import { type TextMark, textWidth } from '../../../service/papers/marks.js';
import type { Point, Ring } from '../../../solver/problem.js';

const textsOf = (outlines: readonly Ring[], scale = 20): TextMark[] =>
  dimensionMarks(outlines, 'metric', scale).marks.filter((mark) => mark.kind === 'text');

const L_SHAPE: Ring = [
  [0, 0],
  [3600, 0],
  [3600, 1200],
  [1500, 1200],
  [1500, 3000],
  [0, 3000],
];

const boxOf = (mark: TextMark) => {
  const long = textWidth(mark.text, mark.size) / 2;
  const upright = Math.abs(Math.abs(mark.rotate) - 90) < 1;
  const [x, y] = mark.at;
  return upright
    ? { minX: x - mark.size * 0.7, maxX: x, minY: y - long, maxY: y + long }
    : { minX: x - long, maxX: x + long, minY: y - mark.size * 0.7, maxY: y };
};

describe('dimensions', () => {
  it('give every side of an outline its length, equal opposite sides once', () => {
    const texts = textsOf([L_SHAPE]).map((mark) => mark.text);
    expect(texts.sort()).toEqual(['1200', '1500', '1800', '2100', '3000', '3600']);
    expect(
      textsOf([
        [
          [0, 0],
          [2400, 0],
          [2400, 1800],
          [0, 1800],
        ],
      ])
        .map((mark) => mark.text)
        .sort(),
    ).toEqual(['1800', '2400']);
  });

  it('measure a slanted side along itself', () => {
    const texts = textsOf([
      [
        [0, 0],
        [900, 0],
        [900, 500],
        [500, 900],
        [0, 900],
      ],
    ]);
    const slanted = texts.find((mark) => Math.abs(Math.abs(mark.rotate) - 45) < 1e-6);
    expect(slanted?.text).toBe('566');
  });

  it('never lay one text over another, and stay outside the room, for any staircase of walls', () => {
    const steps = fc.array(fc.tuple(fc.integer({ min: 20, max: 900 }), fc.integer({ min: 20, max: 900 })), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(steps, fc.constantFrom(10, 20, 50), (parts, scale) => {
        const width = parts.reduce((sum, part) => sum + part[0], 0);
        const height = parts.reduce((sum, part) => sum + part[1], 0);
        let [x, y] = [width, 0];
        const stair: Point[] = parts.flatMap(([dx, dy]): Point[] => {
          y += dy;
          const corner: Point = [x, y];
          x -= dx;
          return [corner, [x, y]];
        });
        const ring: Ring = [[0, 0], [width, 0], ...stair];
        const boxes = textsOf([ring], scale).map(boxOf);
        boxes.forEach((a, i) => {
          const inside = a.minX < width && a.maxX > 0 && a.minY < 0 && a.maxY > -height;
          expect(inside).toBe(false);
          boxes.slice(i + 1).forEach((b) => {
            expect(a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY).toBe(false);
          });
        });
      }),
      { seed: 31, numRuns: 150 },
    );
  });
});
