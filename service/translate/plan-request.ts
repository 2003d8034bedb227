import type { PartsRequest } from '../../solver/parts/plan-parts.js';
import type { PlanRequest } from '../../solver/plan-types.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { toCable, toZone } from './zone.js';

/** What the request says on laying zones in parts. Zones that share a curb stay whole: one crossing serves one cable. */
export const splitOf = (request: LayoutRequest): Pick<PartsRequest, 'split' | 'maxLoad' | 'undivided'> => ({
  split: request.split === undefined ? 'needed' : request.split ? 'wanted' : 'never',
  maxLoad: request.maxLoad ?? null,
  undivided: new Set(
    request.zones.flatMap(({ id, dryZone }) => (dryZone === undefined ? [] : [id, dryZone])),
  ),
});

/** A valid request in the solver's terms. */
export const toPlanRequest = (request: LayoutRequest): PlanRequest => {
  const { pitch, origin } = request.lattice;
  const insisted = new Map<string, string>();
  for (const zone of request.zones) if (zone.cable !== undefined) insisted.set(zone.id, zone.cable);
  return {
    lattice: { pitch, origin: origin ?? null },
    spacing: request.spacing,
    placementSlopPerTurn: request.placementSlopPerTurn,
    zones: request.zones.map((zone) => toZone(zone, pitch)),
    catalogue: request.catalogue.map(toCable),
    insisted,
    turnWeight: request.turnWeight,
    effort: request.effort,
  };
};
