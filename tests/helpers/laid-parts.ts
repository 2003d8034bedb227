/** Prefixes of a path, as someone lays it run by run. */
import type { Point, Ring } from '../../solver/problem.js';

/**
 * The part of an axis-parallel path up to a node: `share` (0..1) says how far along its whole studs. The last vertex
 * of the path may lie between nodes; the prefix never reaches it.
 */
export const prefixOf = (path: Ring, pitch: number, share: number): Point[] => {
  const studs = (a: Point, b: Point): number =>
    Math.floor((Math.abs(b[0] - a[0]) + Math.abs(b[1] - a[1])) / pitch + 1e-6);
  const total = path.slice(1).reduce((sum, p, k) => sum + studs(path[k] ?? p, p), 0);
  let left = Math.max(1, Math.min(total - 1, Math.round(share * total)));
  const prefix: Point[] = [];
  for (const [k, b] of path.entries()) {
    const a = path[k - 1];
    if (a === undefined) {
      prefix.push(b);
      continue;
    }
    const here = studs(a, b);
    const go = Math.min(left, here);
    prefix.push([a[0] + Math.sign(b[0] - a[0]) * go * pitch, a[1] + Math.sign(b[1] - a[1]) * go * pitch]);
    left -= go;
    if (left === 0) break;
  }
  return prefix;
};
