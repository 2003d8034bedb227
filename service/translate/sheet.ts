import { wholeId } from '../../solver/parts/plan-parts.js';
import type { PlanOutcome, ZonePlan } from '../../solver/plan-types.js';
import type { Shape } from '../../solver/problem.js';
import type { MaterialReport } from '../../solver/trade/material.js';
import type { Display, PlanSheet, SheetSensor } from '../papers/model.js';
import { sheetOf, type ZoneExtras } from '../papers/sheet-of.js';
import type { ZoneFittings } from '../pool/fit-out.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import type { WireZone } from '../schemas/zone.js';
import type { LayoutElectrics } from './electrics.js';
import { circuitElectrics, zoneElectrics } from './electrics-sheet.js';
import { zoneFacts } from './fittings-sheet.js';
import { materialLines } from './materials-sheet.js';

const TITLE = 'Floor-warming cable';

const drainShape = (drain: NonNullable<WireZone['drain']>): Shape =>
  'outline' in drain
    ? { kind: 'polygon', outline: drain.outline }
    : { kind: 'circle', center: drain.center, radius: drain.radius };

/** The joint of a shower lies at the head of its crossing run, that of a dry floor at the end of the cold lead. */
const jointOf = ({ crossing, coldLead }: ZoneFittings): Pick<ZoneExtras, 'joint'> => {
  const joint = crossing?.crossing.joint ?? coldLead?.path.at(-1);
  return joint === undefined ? {} : { joint };
};

const extrasOf = (
  plan: ZonePlan,
  wire: WireZone,
  fittings: ZoneFittings,
  electrics: LayoutElectrics | null,
  display: Display,
): ZoneExtras => ({
  ...jointOf(fittings),
  facts: zoneFacts(plan, fittings, display),
  ...(electrics === null ? {} : zoneElectrics(electrics, plan.zone.id, fittings.sensor?.kind === 'placed')),
  ...(wire.curb === undefined ? {} : { curb: { outline: wire.curb.outline } }),
  ...(wire.drain === undefined ? {} : { drain: drainShape(wire.drain) }),
  ...(fittings.crossing === null ? {} : { crossing: fittings.crossing.crossing.lead }),
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

/** A planned layout with all that belongs to it. */
export interface WholeLayout {
  readonly planned: Extract<PlanOutcome, { kind: 'planned' }>;
  readonly fittings: ReadonlyMap<string, ZoneFittings>;
  readonly electrics: LayoutElectrics | null;
  readonly materials: MaterialReport | undefined;
}

/** The sheet of a layout in every display, and the display that the request asks for. */
export interface Sheets extends Readonly<Record<Display, PlanSheet>> {
  readonly display: Display;
}

const sheetIn = (display: Display, whole: WholeLayout, request: LayoutRequest, id: string): PlanSheet => {
  const { planned, fittings, electrics, materials } = whole;
  const extras = new Map<string, ZoneExtras>();
  for (const plan of planned.zones) {
    const wire = request.zones.find((known) => known.id === wholeId(plan.zone.id));
    const own = fittings.get(plan.zone.id);
    if (wire !== undefined && own !== undefined)
      extras.set(plan.zone.id, extrasOf(plan, wire, own, electrics, display));
  }
  const sensors = sensorsOf(fittings);
  const sheet = sheetOf(planned, {
    id,
    title: request.title ?? TITLE,
    display,
    spacing: request.spacing,
    placementSlopPerTurn: request.placementSlopPerTurn,
    extras,
    ...(request.thermostat === undefined ? {} : { thermostat: request.thermostat.at }),
    ...(electrics === null ? {} : { electrical: circuitElectrics(electrics) }),
    ...(sensors.length === 0 ? {} : { sensors }),
    ...(materials === undefined || request.materials === undefined
      ? {}
      : { materials: materialLines(materials, request.materials.membrane, display) }),
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

/** What the papers of a layout are drawn from. */
export const toSheets = (whole: WholeLayout, request: LayoutRequest, id: string): Sheets => ({
  display: request.display,
  metric: sheetIn('metric', whole, request, id),
  imperial: sheetIn('imperial', whole, request, id),
});
