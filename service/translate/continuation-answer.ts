import { type Run, runsOf } from '../../solver/check/runs.js';
import type { RestPlan } from '../../solver/continue/plan-rest.js';
import type { Cable, Lattice, Zone } from '../../solver/problem.js';
import type { ContinuationAnswer } from '../schemas/continuation-response.js';
import { boundPart, mm, wirePoint, wireRing } from './numbers.js';
import { wireCoverage, wireEnd, wireLength, wireRule } from './report.js';
import { wireRun } from './run.js';

/** Runs of the whole path: those that end in the laid part by the drawing, the others by the cable really used. */
const runs = ({ laid, trace }: RestPlan, lattice: Lattice, leadIn: number): Run[] => {
  const lie = runsOf(laid.path, lattice, leadIn).length;
  // The last laid run may go on beyond the node reached.
  return runsOf(trace.path, lattice, leadIn).map((run) =>
    run.n < lie ? run : { ...run, cumulative: run.cumulative + laid.drift },
  );
};

/** Response body without its timings. */
export const toContinuationAnswer = (
  plan: RestPlan,
  zone: Zone,
  cable: Cable,
  lattice: Lattice,
  guardFired: boolean,
  id: string,
): ContinuationAnswer => {
  const { laid, check, trace } = plan;
  return {
    id,
    zone: zone.id,
    cable: cable.id,
    lattice: { pitch: lattice.pitch, origin: wirePoint(lattice.origin) },
    laid: {
      vertices: laid.path.length,
      drawn: mm(laid.drawn),
      used: mm(laid.used),
      drift: mm(laid.drift),
      driftAllowed: mm(laid.driftAllowed),
      driftExplained: Math.abs(laid.drift) <= laid.driftAllowed,
    },
    left: mm(plan.left),
    path: wireRing(trace.path),
    reserve: wireRing(trace.reserve),
    length: { ...wireLength(check.length), leadIn: mm(zone.leadIn) },
    end: wireEnd(check.end),
    coverage: {
      ...wireCoverage(check.coverage),
      upperBound: boundPart(plan.upperBound),
      boundBasis: plan.boundBasis,
    },
    runs: runs(plan, lattice, zone.leadIn).map(wireRun),
    rules: check.rules.map(wireRule),
    guardFired,
  };
};
