import { describe, expect, it } from 'vitest';
import { matchesEtag } from '../../../service/http/etag.js';

describe('matchesEtag', () => {
  // RFC 9110, 8.8.3.2 (table of weak comparison) and 13.1.2.
  it.each([
    ['W/"1"', 'W/"1"', true],
    ['W/"1"', 'W/"2"', false],
    ['W/"1"', '"1"', true],
    ['"1"', '"1"', true],
    ['"0", W/"1" , "2"', 'W/"1"', true],
    ['*', 'W/"1"', true],
    [undefined, 'W/"1"', false],
    ['', 'W/"1"', false],
  ])('%s against %s', (header, etag, equal) => {
    expect(matchesEtag(header, etag)).toBe(equal);
  });
});
