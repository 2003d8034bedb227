import type { StudLattice } from '../lattice/stud-lattice.js';
import type { Trace } from '../problem.js';
import { cutToLength } from '../search/cut-to-length.js';
import { type LaidPart, nodeAt, studsAlong } from './laid-part.js';

/** Points nearer than this are one, mm. */
const ONE_POINT = 0.02;

/**
 * The laid part and a way on from its last stud as one trace whose new part takes `left` mm of cable, a corner at the
 * joint included, with `spare` mm of reserve. Null when the way on is too short for both.
 */
export function joined(
  s: StudLattice,
  laid: LaidPart,
  onward: readonly number[],
  left: number,
  leadIn: number,
  spare: number,
): Trace | null {
  const cut = cutToLength(s, [...laid.studs, ...onward.slice(1)], laid.drawn - leadIn + left, spare);
  if (!cut) return null;
  const reached = laid.path[laid.path.length - 1];
  const onwards = cut.path.slice(1 + laid.turns);
  const [first] = onwards;
  const turnsAtOnce =
    first !== undefined && Math.hypot(first[0] - reached[0], first[1] - reached[1]) < ONE_POINT;
  return { path: [...laid.path, ...(turnsAtOnce ? onwards.slice(1) : onwards)], reserve: cut.reserve };
}

/** The lattice nodes a trace passes, the one behind its last point included; its first point is a node. */
export function nodesPassed(s: StudLattice, { path, reserve }: Trace): number[] {
  const vertices = [...path.slice(0, -1), ...reserve.slice(1, -1)];
  const last = reserve[reserve.length - 1] ?? path[path.length - 1];
  const before = vertices[vertices.length - 1];
  if (last === undefined || before === undefined) return vertices.map((p) => nodeAt(s, p));
  const { pitch } = s.lattice;
  const beyond = (axis: 0 | 1): number =>
    before[axis] +
    Math.sign(last[axis] - before[axis]) *
      Math.ceil(Math.abs(last[axis] - before[axis]) / pitch - 1e-6) *
      pitch;
  return studsAlong(s, [...vertices, [beyond(0), beyond(1)]]);
}
