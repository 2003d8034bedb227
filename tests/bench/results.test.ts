import { describe, expect, it } from 'vitest';
import { markdownTable, mean, percent, withSection } from '../../bench/results.js';
import { HEAD, summaryLines } from '../../bench/room-table.js';

const DOCUMENT = '# Results\n\n## One\n\nfirst\n\n## Two\n\nsecond\n\n### Part of two\n\nmore\n';

describe('sections of the results', () => {
  it('replaces a section and keeps the others', () => {
    expect(withSection(DOCUMENT, 'One', 'new')).toBe(DOCUMENT.replace('first', 'new'));
    expect(withSection(DOCUMENT, 'Two', 'new')).toBe('# Results\n\n## One\n\nfirst\n\n## Two\n\nnew\n');
  });

  it('adds a section at the end', () => {
    expect(withSection(DOCUMENT, 'Three', 'third')).toBe(`${DOCUMENT}\n## Three\n\nthird\n`);
    expect(withSection('# Results\n', 'One', 'first')).toBe('# Results\n\n## One\n\nfirst\n');
  });

  it('does not take a heading for another that begins alike', () => {
    expect(withSection('# Results\n\n## One and a half\n\nx\n', 'One', 'y')).toBe(
      '# Results\n\n## One and a half\n\nx\n\n## One\n\ny\n',
    );
  });

  it('gives the same document when the same section is put twice', () => {
    const once = withSection(DOCUMENT, 'One', 'a\n\nb');
    expect(withSection(once, 'One', 'a\n\nb')).toBe(once);
  });
});

describe('tables and figures', () => {
  it('writes one line a row', () => {
    expect(markdownTable(['a', 'b'], [['1', '2']])).toBe('| a | b |\n| --- | --- |\n| 1 | 2 |');
  });

  it('writes shares in per cent and means', () => {
    expect(percent(0.98765)).toBe('98.77');
    expect(mean([1, 2, 6])).toBe(3);
  });

  it('sums up the rooms that were laid', () => {
    const rooms = [
      {
        coverage: 0.99,
        gap: 0.01,
        turns: 22,
        inBuffer: 2,
        looks: { jogs: 1, stairs: 0, fingers: 2 },
        fingers: [3000, 5000],
        turnBound: { turns: 10, atLength: 20 },
        processor: 1,
      },
      {
        coverage: 0.97,
        gap: 0.02,
        turns: 9,
        inBuffer: 0,
        looks: { jogs: 0, stairs: 1, fingers: 1 },
        fingers: [1000],
        turnBound: null,
        processor: 3,
      },
      {
        coverage: 0.98,
        gap: 0.03,
        turns: 13,
        inBuffer: 1,
        looks: { jogs: 2, stairs: 0, fingers: 0 },
        fingers: [],
        turnBound: { turns: 10, atLength: 10 },
        processor: 2,
      },
    ];
    expect(summaryLines(rooms, 4)).toEqual([
      '- laid: 3 of 4 rooms',
      '- coverage: mean 98.00 %, least 97.00 %',
      '- gap to the bound: mean 2.00 points, largest 3.00',
      '- processor seconds: mean 2.00, longest 3.00',
      '- looks: 3 jogs, 1 stairs, 3 short fingers in 44 turns',
      '- cm2 that a short finger warms and nothing else does: mean 30, least 10',
      '- turns outside the buffer over the bound at the length: mean 1.10 times, largest 1.20',
      '- all turns over the bound at any length: mean 1.75 times, largest 2.20',
    ]);
    expect(summaryLines([], 2)).toEqual(['- laid: 0 of 2 rooms']);
    expect(new Set(HEAD).size).toBe(HEAD.length);
  });
});
