import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { winAnsi } from '../../../../service/papers/pdf/win-ansi.js';

/** The outside reference for Windows-1252 is the decoder of the WHATWG Encoding Standard. */
const encodable = new Set(
  Array.from({ length: 256 }, (_, byte) => new TextDecoder('windows-1252').decode(new Uint8Array([byte]))),
);

describe('text for the standard PDF fonts', () => {
  it('keeps what they can print and says the rest otherwise', () => {
    expect(winAnsi('±15 mm² at 20 °C – “vanity” é')).toBe('±15 mm² at 20 °C – “vanity” é');
    expect(winAnsi('72 Ω ≤ 79 Ω')).toBe('72 ohm <= 79 ohm');
    expect(winAnsi('θ → 5')).toBe('theta -> 5');
    expect(winAnsi('Łódź čaj')).toBe('Lódz caj');
    expect(winAnsi('e\u0301')).toBe('é');
    expect(winAnsi('湯 ')).toBe('? ');
    expect(winAnsi('a\u0000\nb')).toBe('a  b');
  });

  it('holds nothing else, whatever comes in', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => {
        for (const char of winAnsi(text)) {
          expect(encodable.has(char)).toBe(true);
          const code = char.codePointAt(0) ?? 0;
          expect(code < 32 || (code >= 127 && code < 160)).toBe(false);
        }
      }),
      { seed: 51 },
    );
  });
});
