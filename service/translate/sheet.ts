import type { PlanOutcome } from '../../solver/plan-types.js';
import type { Shape } from '../../solver/problem.js';
import type { PlanSheet, SheetSensor } from '../papers/model.js';
import { sheetOf, type ZoneExtras } from '../papers/sheet-of.js';
import type { ZoneFittings } from '../pool/fit-out.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import type { WireZone } from '../schemas/zone.js';
import type { LayoutElectrics } from './electrics.js';
import { circuitElectrics, zoneElectrics } from './electrics-sheet.js';

const TITLE = 'Floor-warming cable';

const drainShape = (drain: NonNullable<WireZone['drain']>): Shape =>
  'outline' in drain
    ? { kind: 'polygon', outline: drain.outline }
    : { kind: 'circle', center: drain.center, radius: drain.radius };

const extrasOf = (wire: WireZone, fittings: ZoneFittings, electrics: LayoutElectrics | null): ZoneExtras => ({
  ...(electrics === null ? {} : zoneElectrics(electrics, wire.id)),
  ...(wire.curb === undefined ? {} : { curb: { outline: wire.curb.outline } }),
  ...(wire.drain === undefined ? {} : { drain: drainShape(wire.drain) }),
  ...(fittings.crossing === null
    ? {}
    : { crossing: fittings.crossing.crossing.lead, joint: fittings.crossing.crossing.joint }),
  ...(fittings.coldLead === null ? {} : { coldLead: fittings.coldLead.path }),
  ...(fittings.marks === null ? {} : { marks: fittings.marks }),
});

const sensorsOf = (fittings: ReadonlyMap<string, ZoneFittings>): readonly SheetSensor[] =>
  [...fittings].flatMap(([zone, { sensor }]) => {
    if (sensor?.kind !== 'placed') return [];
    const { at, lead } = sensor.sensor;
    const own: SheetSensor = { id: `${zone} sensor`, at, lead, spare: false };
    if (sensor.spare === null) return [own];
    return [own, { id: `${zone} spare`, at: sensor.spare.at, lead: sensor.spare.lead, spare: true }];
  });

/** What the papers of a layout are drawn from. */
export const toSheet = (
  planned: Extract<PlanOutcome, { kind: 'planned' }>,
  request: LayoutRequest,
  fittings: ReadonlyMap<string, ZoneFittings>,
  electrics: LayoutElectrics | null,
  id: string,
): PlanSheet => {
  const extras = new Map<string, ZoneExtras>();
  for (const wire of request.zones) {
    const own = fittings.get(wire.id);
    if (own !== undefined) extras.set(wire.id, extrasOf(wire, own, electrics));
  }
  const sensors = sensorsOf(fittings);
  const sheet = sheetOf(planned, {
    id,
    title: TITLE,
    display: request.display,
    spacing: request.spacing,
    placementSlopPerTurn: request.placementSlopPerTurn,
    extras,
    ...(request.thermostat === undefined ? {} : { thermostat: request.thermostat.at }),
    ...(electrics === null ? {} : { electrical: circuitElectrics(electrics) }),
    ...(sensors.length === 0 ? {} : { sensors }),
  });
  // Curbs and drains are drawn as themselves, not as no-heat areas as well.
  const themselves = new Set(request.zones.flatMap((zone) => [`${zone.id} curb`, `${zone.id} drain`]));
  return {
    ...sheet,
    zones: sheet.zones.map((zone) => ({
      ...zone,
      exclusions: zone.exclusions.filter((exclusion) => !themselves.has(exclusion.id)),
    })),
  };
};
