import fc from 'fast-check';
import PDFDocument from 'pdfkit';
import { describe, expect, it } from 'vitest';
import {
  fitText,
  piecesData,
  piecesLength,
  roundedPieces,
  textWidth,
  wrapText,
} from '../../../service/papers/marks.js';
import type { Point } from '../../../solver/problem.js';
import { pathDataLength } from './svg-path.js';

const PITCH = 30;

/** Walk on the lattice with right-angled corners: legs of 1 to 40 studs, each turning left or right. */
const latticeWalk = fc
  .array(fc.record({ studs: fc.integer({ min: 1, max: 40 }), left: fc.boolean() }), {
    minLength: 1,
    maxLength: 80,
  })
  .map((legs): { path: Point[]; sharp: number; corners: number } => {
    let [x, y, dx, dy] = [0, 0, 1, 0];
    const path: Point[] = [[0, 0]];
    let sharp = 0;
    for (const { studs, left } of legs) {
      x += dx * studs * PITCH;
      y += dy * studs * PITCH;
      sharp += studs * PITCH;
      path.push([x, y]);
      [dx, dy] = left ? [-dy, dx] : [dy, -dx];
    }
    return { path, sharp, corners: legs.length - 1 };
  });

describe('rounded corners', () => {
  it('shorten the sharp line by (2 - pi/2) r each: 6.438 mm at r 15 (derived)', () => {
    const pieces = roundedPieces(
      [
        [0, 0],
        [300, 0],
        [300, 300],
      ],
      15,
    );
    expect(600 - piecesLength(pieces)).toBeCloseTo(6.438, 3);
    expect(pieces.map((piece) => piece.kind)).toEqual(['line', 'arc', 'line']);
  });

  it('draw what they measure: sharp length less the saving, from the path data, within 0.1 %', () => {
    fc.assert(
      fc.property(latticeWalk, ({ path, sharp, corners }) => {
        const laid = sharp - corners * (2 - Math.PI / 2) * (PITCH / 2);
        const drawn = pathDataLength(piecesData(roundedPieces(path, PITCH / 2)));
        expect(Math.abs(drawn - laid)).toBeLessThanOrEqual(laid * 0.001);
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('are one unbroken line from first to last point that leaves every arc along its tangent', () => {
    fc.assert(
      fc.property(latticeWalk, ({ path }) => {
        const pieces = roundedPieces(path, PITCH / 2);
        expect(pieces[0]?.from).toEqual(path[0]);
        const end = pieces.at(-1)?.to;
        expect(
          Math.hypot((end?.[0] ?? 0) - (path.at(-1)?.[0] ?? 1), (end?.[1] ?? 0) - (path.at(-1)?.[1] ?? 1)),
        ).toBeLessThan(1e-6);
        pieces.slice(1).forEach((piece, i) => {
          expect(piece.from).toEqual(pieces[i]?.to);
        });
        for (const piece of pieces)
          if (piece.kind === 'arc') {
            // chord of a quarter circle
            const chord = Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
            expect(chord).toBeCloseTo(piece.radius * Math.SQRT2, 6);
          }
      }),
      { seed: 12, numRuns: 100 },
    );
  });

  it('shrink where a leg is too short, and pass straight vertices by', () => {
    const short = roundedPieces(
      [
        [0, 0],
        [300, 0],
        [300, 6],
      ],
      15,
    );
    expect(short.find((piece) => piece.kind === 'arc')).toMatchObject({ radius: expect.closeTo(6, 6) });
    const straight = roundedPieces(
      [
        [0, 0],
        [100, 0],
        [200, 0],
      ],
      15,
    );
    expect(straight).toEqual([{ kind: 'line', from: [0, 0], to: [200, 0] }]);
    expect(roundedPieces([], 15)).toEqual([]);
  });
});

describe('text', () => {
  const doc = new PDFDocument({ autoFirstPage: false });

  it('is as wide as the Adobe metrics of Helvetica say (pdfkit carries the AFM file)', () => {
    doc.font('Helvetica').fontSize(10);
    for (let code = 32; code < 127; code++) {
      const char = String.fromCharCode(code);
      expect(textWidth(char, 10), char).toBeCloseTo(doc.widthOfString(char), 5);
    }
  });

  it('wraps to lines that fit, loses nothing, and keeps feet and inches together', () => {
    const words = fc.array(fc.string({ minLength: 1, maxLength: 30, unit: 'grapheme-ascii' }), {
      maxLength: 30,
    });
    fc.assert(
      fc.property(words, (parts) => {
        const text = parts.join(' ');
        const lines = wrapText(text, 3, 40);
        for (const line of lines) expect(textWidth(line, 3)).toBeLessThanOrEqual(40);
        expect(lines.join('').replace(/\s+/g, '')).toBe(text.replace(/\s+/g, ''));
      }),
      { seed: 13 },
    );
    expect(wrapText(`it measures 7' 10 1/2" long`, 10, textWidth('it measures 7', 10) + 1)[1]).toMatch(
      /^7' 10 1\/2"/,
    );
  });

  it('cuts a line with an ellipsis only when it must', () => {
    expect(fitText('vanity', 3, 100)).toBe('vanity');
    const cut = fitText('a very long name indeed', 3, 15);
    expect(cut.endsWith('…')).toBe(true);
    expect(textWidth(cut, 3)).toBeLessThanOrEqual(15);
  });
});
