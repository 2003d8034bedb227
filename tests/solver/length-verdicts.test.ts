import { describe, expect, it } from 'vitest';
import { agreeing } from '../../solver/length-verdicts.js';
import type { CableVerdict } from '../../solver/plan-types.js';
import { metres } from '../helpers/shower.js';

const cables = [4, 5, 6, 9, 10, 12].map((length) => metres(length));

const verdict = (metre: number, reason: CableVerdict['reason'], by: number | null): CableVerdict => ({
  zone: 'z',
  cable: metres(metre).id,
  fits: reason === null,
  chosen: false,
  reason,
  by,
  coverage: null,
  turns: null,
  detail: 'it does not fit',
});

const verdicts = [
  verdict(4, 'too-short', 300),
  verdict(5, 'too-short', 700),
  verdict(6, null, null),
  verdict(9, 'too-long', 2500),
  verdict(10, 'too-long', 800),
  verdict(12, 'too-long', 6000),
];

describe('agreeing', () => {
  it('no longer cable is said to be less too long than a shorter one, no shorter one less too short', () => {
    // 5 m lacks 0.7 m, so 4 m lacks 1.7 m; 9 m is 2.5 m too long, so 10 m is 3.5 m; 12 m says more by itself.
    expect(agreeing(verdicts, cables).map(({ by }) => by)).toEqual([1700, 700, null, 2500, 3500, 6000]);
  });

  it('names the cable that shows it', () => {
    const told = agreeing(verdicts, cables);
    expect(told[4]?.detail).toContain(metres(9).id);
    expect(told[3]?.detail).toBe('it does not fit');
  });

  it('lets no stiffer cable speak for a softer one', () => {
    const stiff = cables.map((cable) =>
      cable.id === metres(9).id ? { ...cable, minBendRadius: 2 * cable.minBendRadius } : cable,
    );
    expect(agreeing(verdicts, stiff)[4]?.by).toBe(800);
  });

  it('lets no cable speak for one on the other side of a fitting one', () => {
    const odd = verdicts.map((one) => (one.cable === metres(9).id ? verdict(9, 'too-short', 50) : one));
    expect(agreeing(odd, cables)[0]?.by).toBe(1700);
  });
});
