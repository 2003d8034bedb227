import { furnishedZones, type JobInput, type PreparedJob, prepareJob } from '../../solver/job/prepare.js';
import { chooseOrigin } from '../../solver/lattice/choose-origin.js';
import type { PlanRequest } from '../../solver/plan-types.js';
import type { Ring, Setting } from '../../solver/problem.js';
import type { Problem } from '../problems.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { assumedBuffers, withBuffers } from '../translate/buffers.js';
import { jobProblem, toJobInput, toJobZones } from '../translate/job.js';
import { toPlanRequest } from '../translate/plan-request.js';
import { byVoltage, type VoltageSplit, voltageProblem } from '../translate/voltage.js';
import { preconditionProblem } from '../validate/precondition.js';

/** A request with everything done that comes before planning, or what makes it impossible. */
export type ReadyRequest =
  | {
      readonly kind: 'ready';
      readonly plan: PlanRequest;
      readonly setting: Setting;
      readonly input: JobInput;
      readonly prepared: PreparedJob;
      readonly suiting: VoltageSplit;
      /** Buffers that were assumed, by zone id. */
      readonly assumed: ReadonlyMap<string, Ring>;
    }
  | { readonly kind: 'problem'; readonly problem: Problem };

/** Leaves out cables of another voltage, assumes buffers, brings drains, curbs and supplies together. */
export const readyRequest = (request: LayoutRequest): ReadyRequest => {
  const asDrawn = toPlanRequest(request);
  const suiting = byVoltage(request, asDrawn.catalogue);
  const unsuited = voltageProblem(request, suiting);
  if (unsuited !== null) return { kind: 'problem', problem: unsuited };
  const assumed = assumedBuffers(request, asDrawn);
  const drawn: PlanRequest = withBuffers({ ...asDrawn, catalogue: suiting.suited }, assumed);
  const { pitch } = drawn.lattice;
  const jobZones = toJobZones(request, drawn);
  const furnished = furnishedZones(jobZones, pitch);
  const supplied = new Set(jobZones.flatMap(({ zone, dryZone }) => (dryZone === null ? [] : [zone.id])));
  const blocked = preconditionProblem({ ...drawn, zones: furnished }, supplied);
  if (blocked !== null) return { kind: 'problem', problem: blocked };

  const origin = drawn.lattice.origin ?? chooseOrigin(furnished, pitch);
  const setting: Setting = {
    lattice: { pitch, origin },
    spacing: drawn.spacing,
    placementSlopPerTurn: drawn.placementSlopPerTurn,
  };
  const input = toJobInput(request, drawn, jobZones, setting);
  const prepared = prepareJob(input);
  if (prepared.kind === 'impossible') return { kind: 'problem', problem: jobProblem(prepared.problems) };
  const plan: PlanRequest = { ...drawn, lattice: setting.lattice, zones: prepared.zones };
  return { kind: 'ready', plan, setting, input, prepared, suiting, assumed };
};
