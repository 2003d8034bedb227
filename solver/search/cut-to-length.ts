import { nodePoint, type StudLattice } from '../lattice/stud-lattice.js';
import { cornerSaving, type Point, type Trace } from '../problem.js';

/**
 * Cuts a walk of lattice nodes where the laid cable ends: `length` mm of it from the first node, corners rounded.
 * `spare` mm more become the reserve. Null when the walk is shorter than both together.
 */
export function cutToLength(
  s: StudLattice,
  walk: ArrayLike<number>,
  length: number,
  spare: number,
): Trace | null {
  const saving = cornerSaving(s.lattice);
  const pitch = s.lattice.pitch;
  const path: Point[] = [nodePoint(s, walk[0])];
  const reserve: Point[] = [];
  let done = 0;
  for (let k = 0; k + 1 < walk.length; k++) {
    const from = nodePoint(s, walk[k]);
    const to = nodePoint(s, walk[k + 1]);
    const corner = k > 0 && walk[k] - walk[k - 1] !== walk[k + 1] - walk[k];
    if (corner) {
      (reserve.length > 0 ? reserve : path).push(from);
      done -= saving;
    }
    const along = (at: number): Point => {
      const share = Math.min(1, Math.max(0, (at - done) / pitch));
      return [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
    };
    if (reserve.length === 0 && done + pitch >= length - 1e-9) {
      const end = along(length);
      path.push(end);
      reserve.push(end);
    }
    if (reserve.length > 0 && done + pitch >= length + spare - 1e-9) {
      reserve.push(along(length + spare));
      return { path: distinct(path), reserve: distinct(reserve) };
    }
    done += pitch;
  }
  return null;
}

const distinct = (points: readonly Point[]): Point[] =>
  points.filter((p, k) => k === 0 || Math.hypot(p[0] - points[k - 1][0], p[1] - points[k - 1][1]) > 1e-6);
