import { describe, expect, it } from 'vitest';
import { createNativeEngine, writeLpFormat } from '../../bench/peers-engines.js';
import { createGlpkEngine } from '../../solver/engines/glpk.js';
import type { MipModel } from '../../solver/engines/port.js';
import { seeded } from '../helpers/grid-tasks.js';

const binary = (cost: number) => ({ cost, lower: 0, upper: 1, integer: true });

const SMALL: MipModel = {
  variables: [binary(3), binary(-2), { cost: 0, lower: 0, upper: Number.POSITIVE_INFINITY, integer: false }],
  rows: [
    { columns: [0, 1], coefficients: [1, -1], lower: -1, upper: 0.5 },
    { columns: [1, 2], coefficients: [2, 1], lower: 2, upper: 2 },
  ],
};

/** Random covering and packing rows over `size` binaries. */
function randomModel(random: () => number, size: number): MipModel {
  const rows = Array.from({ length: size }, () => {
    const columns = Array.from({ length: size }, (_, j) => j).filter(() => random() < 0.4);
    const coefficients = columns.map(() => 1 + Math.floor(random() * 5));
    const sum = coefficients.reduce((a, b) => a + b, 0);
    return random() < 0.5
      ? { columns, coefficients, lower: Math.floor(sum / 3), upper: Number.POSITIVE_INFINITY }
      : { columns, coefficients, lower: 0, upper: Math.ceil(sum / 2) };
  });
  return { variables: rows.map(() => binary(Math.floor(random() * 20) - 6)), rows };
}

describe('models for native programs', () => {
  it('writes columns in order, both sides of a row, bounds and integers', () => {
    expect(writeLpFormat(SMALL).split('\n')).toEqual([
      'Minimize',
      ' cost:',
      '  + 3 x0',
      '  - 2 x1',
      '  + 0 x2',
      'Subject To',
      ' r0l:',
      '  + 1 x0',
      '  - 1 x1',
      '  >= -1',
      ' r0u:',
      '  + 1 x0',
      '  - 1 x1',
      '  <= 0.5',
      ' r1:',
      '  + 2 x1',
      '  + 1 x2',
      '  = 2',
      'Bounds',
      ' 0 <= x0 <= 1',
      ' 0 <= x1 <= 1',
      ' 0 <= x2 <= +inf',
      'Generals',
      ' x0',
      ' x1',
      'End',
      '',
    ]);
  });
});

// Where a program is not installed its bench skips it, and so does this.
describe.each(['cbc', 'glpsol'] as const)('%s', (program) => {
  const engine = createNativeEngine(program);

  it.skipIf(engine === null)('agrees with glpk.js on random models', async () => {
    const glpk = await createGlpkEngine();
    const random = seeded(3);
    let optimal = 0;
    for (let k = 0; k < 25; k++) {
      const model = randomModel(random, 4 + (k % 9));
      const ours = glpk.solve(model, { seconds: 10 });
      const theirs = engine?.solve(model, { seconds: 10 });
      expect(theirs?.kind).toBe(ours.kind);
      if (ours.kind !== 'optimal' || theirs?.kind !== 'optimal') continue;
      optimal++;
      expect(theirs.objective).toBeCloseTo(ours.objective, 6);
    }
    expect(optimal).toBeGreaterThan(5);
  });
});
