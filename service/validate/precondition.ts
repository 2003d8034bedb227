import { nearestOnSegment } from '../../solver/geometry/measure.js';
import { contains, intersect, regionOf } from '../../solver/geometry/region.js';
import { routingArea } from '../../solver/geometry/zone-area.js';
import type { PlanRequest, RefusalReason } from '../../solver/plan-types.js';
import type { Point, Region, Zone } from '../../solver/problem.js';
import type { Fault, Problem } from '../problems.js';
import { mm } from '../translate/numbers.js';
import { fieldName, jsonPointer, type PathPart } from './pointer.js';

/** How far from the entry the routing area may lie, in pitches, and in clearances: an entry may stand in a corner. */
const ENTRY_PITCHES = 3;
const ENTRY_CLEARANCES = 2;

export const entryReach = ({ clearance }: Zone, pitch: number): number =>
  Math.max(ENTRY_PITCHES * pitch, ENTRY_CLEARANCES * clearance);

const distanceTo = (region: Region, p: Point): number => {
  if (contains(region, p)) return 0;
  let best = Number.POSITIVE_INFINITY;
  for (const ring of region) {
    let a = ring[ring.length - 1];
    for (const b of ring) {
      if (a !== undefined) {
        const [x, y] = nearestOnSegment(p, a, b);
        best = Math.min(best, Math.hypot(x - p[0], y - p[1]));
      }
      a = b;
    }
  }
  return best;
};

interface Obstacle {
  readonly reason: RefusalReason;
  readonly by: number | null;
  readonly fault: Fault;
}

const obstacleOf = (
  zone: Zone,
  pitch: number,
  entryGiven: boolean,
  path: readonly PathPart[],
): Obstacle | null => {
  const fault = (part: readonly PathPart[], says: string): Fault => ({
    pointer: jsonPointer([...path, ...part]),
    detail: `${fieldName([...path, ...part])} ${says}`,
  });
  const routing = routingArea(zone);
  if (routing.length === 0) {
    const says = `leaves no room for cable once its clearance of ${zone.clearance} mm and the no-heat areas are taken off; enlarge it or lower a clearance.`;
    return { reason: 'no-route', by: null, fault: fault(['outline'], says) };
  }
  const far = entryGiven ? distanceTo(routing, zone.entry) : 0;
  const reach = entryReach(zone, pitch);
  if (far > reach) {
    const says = `lies ${far.toFixed(1)} mm from where cable may run; it may be at most ${reach} mm away. Move it into the zone, clear of the no-heat areas.`;
    return { reason: 'entry-outside', by: mm(far), fault: fault(['entry'], says) };
  }
  if (intersect(routing, regionOf(zone.buffer)).length === 0) {
    const says =
      'has nothing in common with where cable may run; move it into the zone, clear of clearances and no-heat areas.';
    return { reason: 'buffer-unreachable', by: null, fault: fault(['buffer', 'outline'], says) };
  }
  return null;
};

/**
 * What makes zones impossible whatever the cable, by polygon arithmetic alone: no routing area, an entry too far
 * from it (unless it is computed: zones in `supplied`), a buffer outside it. Heavier than the other checks, so it runs in the solver thread, before the solver.
 */
export const preconditionProblem = (
  plan: PlanRequest,
  supplied: ReadonlySet<string> = new Set(),
): Problem | null => {
  const found = plan.zones.flatMap((zone, k) => {
    const obstacle = obstacleOf(zone, plan.lattice.pitch, !supplied.has(zone.id), ['zones', k]);
    return obstacle === null ? [] : [{ zone: zone.id, ...obstacle }];
  });
  if (found.length === 0) return null;
  return {
    slug: 'impossible-layout',
    detail: `No cable can be laid in ${found.map(({ zone }) => `zone "${zone}"`).join(', ')}, whatever its length.`,
    errors: found.map(({ fault }) => fault),
    members: {
      cables: found.flatMap(({ zone, reason, by, fault }) =>
        plan.catalogue.map(({ id: cable }) => ({
          zone,
          cable,
          fits: false,
          chosen: false,
          reason,
          by,
          unit: by === null ? null : 'mm',
          coverage: null,
          turns: null,
          detail: fault.detail,
        })),
      ),
    },
  };
};
