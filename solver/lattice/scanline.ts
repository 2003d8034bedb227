import type { Region } from '../problem.js';

/**
 * Where the line y = `at` (or x = `at` when `axis` is 'x') runs inside a region: sorted [from, to, from, to, ...].
 * Vertices exactly on the line count half-open, so that touching corners neither open nor close an interval twice.
 */
export function crossings(region: Region, axis: 'x' | 'y', at: number): number[] {
  const across = axis === 'y' ? 1 : 0;
  const along = 1 - across;
  const hits: number[] = [];
  for (const ring of region) {
    let p = ring[ring.length - 1];
    for (const q of ring) {
      const a = p[across];
      const b = q[across];
      if (a > at !== b > at) hits.push(p[along] + ((at - a) / (b - a)) * (q[along] - p[along]));
      p = q;
    }
  }
  return hits.sort((u, v) => u - v);
}
