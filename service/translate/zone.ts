import type { Cable, Exclusion, HeatDensity, Ring, Zone } from '../../solver/problem.js';
import type { WireCable } from '../schemas/cable.js';
import { DEFAULTS } from '../schemas/defaults.js';
import type { CheckedZone, WireZone } from '../schemas/zone.js';

type WireExclusion = WireZone['exclusions'][number];

const toExclusion = (wire: WireExclusion, pitch: number): Exclusion => {
  const clearance =
    wire.clearanceStuds === undefined ? (wire.clearance ?? DEFAULTS.clearance) : wire.clearanceStuds * pitch;
  return {
    id: wire.id,
    clearance,
    shape:
      wire.center === undefined
        ? { kind: 'polygon', outline: wire.outline ?? [] }
        : { kind: 'circle', center: wire.center, radius: wire.radius ?? 0 },
  };
};

const toHeatDensity = ({ target, least, most }: NonNullable<WireZone['heatDensity']>): HeatDensity => ({
  target: target ?? null,
  least: least ?? null,
  most: most ?? null,
});

/**
 * A zone of a valid request in the solver's terms, as drawn; a zone without an entry gets its first corner, one
 * without a buffer gets `buffer`.
 */
export const toZone = (wire: WireZone | CheckedZone, pitch: number, buffer: Ring = []): Zone => ({
  id: wire.id,
  wet: wire.wet,
  outline: wire.outline,
  clearance: wire.clearance,
  exclusions: wire.exclusions.map((exclusion) => toExclusion(exclusion, pitch)),
  buffer: wire.buffer?.outline ?? buffer,
  entry: wire.entry ?? wire.outline[0] ?? [0, 0],
  leadIn: wire.leadIn,
  priorities: wire.priority.map(({ outline, weight }) => ({ outline, weight })),
  ...('heatDensity' in wire && wire.heatDensity !== undefined
    ? { heatDensity: toHeatDensity(wire.heatDensity) }
    : {}),
});

export const toCable = (wire: WireCable): Cable => ({
  ...wire,
  minBendRadius: wire.minBendRadius ?? DEFAULTS.bendPerDiameter * wire.diameter,
});
