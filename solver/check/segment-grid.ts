import type { Point } from '../problem.js';

/** Finds the segments of a polyline that come near one another. Segment k runs from point k to point k + 1. */
export interface SegmentGrid {
  /** Calls `visit` once with every segment before `k` that may come within the grid's reach of segment k. */
  earlierNear(k: number, visit: (other: number) => void): void;
}

/** Most cells that all segments together may cover: bounds the work for lines of absurd length. */
const MOST_CELLS = 40_000;

/** Grid over the segments of `points` (length mm in all) for neighbours up to `reach` mm away. */
export const segmentGrid = (points: readonly Point[], length: number, reach: number): SegmentGrid => {
  const cell = Math.max(reach, length / MOST_CELLS, 1e-3);
  let left = Number.POSITIVE_INFINITY;
  let low = Number.POSITIVE_INFINITY;
  for (const [x, y] of points) {
    left = Math.min(left, x);
    low = Math.min(low, y);
  }
  const cells = new Map<number, number[]>();
  const seen = new Int32Array(points.length).fill(-1);

  /** Calls `visit` with the key of each cell within `around` cells of the segment. */
  const cover = (k: number, around: number, visit: (key: number) => void): void => {
    const [ax, ay] = points[k];
    const [bx, by] = points[k + 1];
    const pieces = Math.max(1, Math.ceil(Math.max(Math.abs(bx - ax), Math.abs(by - ay)) / cell));
    for (let piece = 0; piece < pieces; piece += 1) {
      const x0 = ax + ((bx - ax) * piece) / pieces;
      const y0 = ay + ((by - ay) * piece) / pieces;
      const x1 = ax + ((bx - ax) * (piece + 1)) / pieces;
      const y1 = ay + ((by - ay) * (piece + 1)) / pieces;
      const i1 = Math.floor((Math.max(x0, x1) - left) / cell) + around;
      const j1 = Math.floor((Math.max(y0, y1) - low) / cell) + around;
      for (let i = Math.floor((Math.min(x0, x1) - left) / cell) - around; i <= i1; i += 1) {
        for (let j = Math.floor((Math.min(y0, y1) - low) / cell) - around; j <= j1; j += 1) {
          visit((i + 1) * 0x4000000 + j + 1);
        }
      }
    }
  };

  for (let k = 0; k + 1 < points.length; k += 1) {
    cover(k, 0, (key) => {
      const list = cells.get(key);
      if (list === undefined) cells.set(key, [k]);
      else if (list[list.length - 1] !== k) list.push(k);
    });
  }

  return {
    earlierNear(k, visit) {
      cover(k, 1, (key) => {
        for (const other of cells.get(key) ?? []) {
          if (other >= k) break;
          if (seen[other] === k) continue;
          seen[other] = k;
          visit(other);
        }
      });
    },
  };
};
