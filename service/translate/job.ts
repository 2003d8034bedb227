import type { JobInput, JobProblem, JobZone } from '../../solver/job/prepare.js';
import type { PlanRequest } from '../../solver/plan-types.js';
import type { Setting } from '../../solver/problem.js';
import type { Problem } from '../problems.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import type { WireZone } from '../schemas/zone.js';
import { jsonPointer } from '../validate/pointer.js';
import { finite } from './numbers.js';

const toJobZone = (wire: WireZone, zone: PlanRequest['zones'][number]): JobZone => ({
  zone,
  drain:
    wire.drain === undefined
      ? null
      : 'outline' in wire.drain
        ? { kind: 'linear', ...wire.drain }
        : { kind: 'point', ...wire.drain },
  curb: wire.curb === undefined ? null : { ...wire.curb, descent: wire.curb.descent ?? wire.curb.height },
  dryZone: wire.dryZone ?? null,
  wish: { crossing: wire.crossing ?? null, joint: wire.joint ?? null },
});

/** Zones with their drains, curbs and supplies; `plan` is the same request in the planner's terms. */
export const toJobZones = (request: LayoutRequest, plan: PlanRequest): readonly JobZone[] =>
  plan.zones.flatMap((zone, k) => {
    const wire = request.zones[k];
    return wire === undefined ? [] : [toJobZone(wire, zone)];
  });

export const toJobInput = (
  request: LayoutRequest,
  plan: PlanRequest,
  zones: readonly JobZone[],
  setting: Setting,
): JobInput => ({
  setting,
  zones,
  catalogue: plan.catalogue,
  insisted: plan.insisted,
  thermostat: request.thermostat ?? null,
});

/** Why showers and leads cannot be brought together, as an answer. */
export const jobProblem = (problems: readonly JobProblem[]): Problem => ({
  slug: 'impossible-layout',
  detail:
    problems.length === 1 ? (problems[0]?.message ?? '') : `${problems.length} things stand in the way.`,
  errors: problems.map(({ path, message }) => ({ pointer: jsonPointer(path), detail: message })),
  members: {
    cables: [],
    obstacles: problems.map(({ path, by }) => ({
      pointer: jsonPointer(path),
      by: by === null ? null : finite(by),
    })),
  },
});
