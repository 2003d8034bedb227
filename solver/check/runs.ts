import { cornerRadius, type Lattice, type Point, type Ring } from '../problem.js';
import { cableAt, lineOf } from './line.js';

/** One straight run of the path. Lengths mm. */
export interface Run {
  /** Counts from 1. */
  readonly n: number;
  readonly from: Point;
  readonly to: Point;
  /** Whole studs passed along the run. */
  readonly studs: number;
  /** Sharp length of the run. */
  readonly length: number;
  /**
   * Cable used up at the end of the run: lead-in + sharp length so far - savings of the corners passed. The corner
   * at the end of the run itself is not passed yet, so its saving shows in the next run; the last run's figure is
   * the path's length.
   */
  readonly cumulative: number;
}

/** The maximal straight runs of a path in order; `leadIn` mm of cable are used before it begins. */
export const runsOf = (path: Ring, lattice: Lattice, leadIn = 0): readonly Run[] => {
  const line = lineOf({ path, reserve: [] }, cornerRadius(lattice));
  return line.points.slice(1).map((to, k) => {
    const length = line.positions[k + 1] - line.positions[k];
    return {
      n: k + 1,
      from: line.points[k],
      to,
      studs: Math.floor(length / lattice.pitch + 1e-6),
      length,
      cumulative: cableAt(line, leadIn, line.positions[k + 1]),
    };
  });
};
