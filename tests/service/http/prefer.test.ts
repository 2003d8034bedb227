import { describe, expect, it } from 'vitest';
import { parsePrefer } from '../../../service/http/prefer.js';

describe('parsePrefer', () => {
  // RFC 7240, sections 2, 4.1 and 4.3.
  it.each([
    [undefined, false, 0],
    ['respond-async', true, 0],
    ['Respond-Async, wait=10', true, 10],
    ['respond-async; wait="5"', true, 5],
    ['wait=7', false, 7],
    ['respond-async, wait=3, wait=9', true, 3],
    ['respond-async, wait=-1', true, 0],
    ['respond-async, wait=1e9', true, 0],
    ['respond-async, wait=999999', true, 60],
    ['return=minimal', false, 0],
  ])('%s', (header, respondAsync, wait) => {
    expect(parsePrefer(header)).toEqual({ respondAsync, wait });
  });
});
