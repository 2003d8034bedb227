import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson, shortHash } from '../../service/canonical.js';

const turned = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(turned);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([name, member]) => [name, turned(member)]),
  );
};

describe('canonicalJson', () => {
  it('orders the members of every object (as RFC 8785, for names in ASCII)', () => {
    expect(canonicalJson({ b: [{ z: 1, a: null }], a: 'x', ä: undefined })).toBe(
      '{"a":"x","b":[{"a":null,"z":1}]}',
    );
  });

  it('is the same for equal values and keeps their meaning', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(turned(value))).toBe(text);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
      }),
      { seed: 7 },
    );
  });
});

describe('shortHash', () => {
  it('is the first half of SHA-256 (FIPS 180-4 example "abc": ba7816bf 8f01cfea 414140de 5dae2223)', () => {
    expect(Buffer.from(shortHash('abc'), 'base64url').toString('hex')).toBe(
      'ba7816bf8f01cfea414140de5dae2223',
    );
  });
});
