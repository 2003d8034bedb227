import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BoundedFifo } from '../../../service/pool/bounded-fifo.js';

describe('BoundedFifo', () => {
  it('behaves as a list that is cut off at its limit', () => {
    const step = fc.oneof(
      fc.record({ do: fc.constant('push' as const), k: fc.nat(20) }),
      fc.record({ do: fc.constant('shift' as const), k: fc.constant(0) }),
      fc.record({ do: fc.constant('remove' as const), k: fc.nat(20) }),
    );
    fc.assert(
      fc.property(fc.nat(4), fc.array(step), (limit, steps) => {
        const queue = new BoundedFifo<number>(limit);
        let list: number[] = [];
        for (const { do: what, k } of steps) {
          if (what === 'push' && !list.includes(k)) {
            const fits = list.length < limit;
            expect(queue.push(k)).toBe(fits);
            if (fits) list.push(k);
          } else if (what === 'shift') {
            expect(queue.shift()).toBe(list.shift());
          } else if (what === 'remove') {
            expect(queue.remove(k)).toBe(list.includes(k));
            list = list.filter((other) => other !== k);
          }
          expect(queue.size).toBe(list.length);
          expect(queue.position(k)).toBe(list.indexOf(k));
        }
      }),
      { seed: 3 },
    );
  });
});
