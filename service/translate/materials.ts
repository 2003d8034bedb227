import { wholeId } from '../../solver/parts/plan-parts.js';
import type { ZonePlan } from '../../solver/plan-types.js';
import { type MaterialReport, materialQuantities } from '../../solver/trade/material.js';
import type { CurbCrossing, LaidCable, MaterialInput } from '../../solver/trade/material-input.js';
import { answerText } from '../http/reckon-handler.js';
import type { ZoneFittings } from '../pool/fit-out.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { materialResponseSchema } from '../schemas/material.js';
import type { WireZone } from '../schemas/zone.js';

/** What is laid in a zone, as far as quantities go. */
interface Laid {
  readonly cable: LaidCable | null;
  readonly curb: CurbCrossing | null;
}

const NOTHING: Laid = { cable: null, curb: null };

/** Length along the longest side of a curb, mm. */
const curbLength = (outline: NonNullable<WireZone['curb']>['outline']): number =>
  Math.max(
    ...outline.map(([x, y], k) => {
      const [u, v] = outline[(k + 1) % outline.length] ?? [x, y];
      return Math.hypot(u - x, v - y);
    }),
  );

const laidIn = (
  wire: WireZone,
  plans: readonly ZonePlan[],
  fittings: ReadonlyMap<string, ZoneFittings>,
): Laid => {
  const own = plans.filter(({ zone }) => wholeId(zone.id) === wire.id);
  const [first] = own;
  if (first === undefined) return NOTHING;
  const diameter = Math.max(...own.map(({ cable }) => cable.diameter));
  // The runs of showers over a dry floor lie in its membrane.
  const guests = [...fittings.values()].flatMap(({ crossing }) =>
    crossing?.dryZone === wire.id ? [crossing.crossing.parts.run] : [],
  );
  const length = [...own.map(({ cable, zone }) => cable.length - zone.leadIn), ...guests].reduce(
    (sum, part) => sum + part,
    0,
  );
  const parts = fittings.get(wire.id)?.crossing?.crossing.parts;
  const over = parts === undefined ? 0 : parts.climb + parts.top + parts.descent;
  return {
    cable: { length, diameter },
    curb:
      wire.curb === undefined || over <= 0
        ? null
        : { length: curbLength(wire.curb.outline), crossing: over, diameter },
  };
};

/** The quantities' input; before anything is planned (`plans` empty) it serves to judge the request. */
export const materialInput = (
  request: LayoutRequest,
  plans: readonly ZonePlan[],
  fittings: ReadonlyMap<string, ZoneFittings>,
): MaterialInput | null => {
  const { materials, supply } = request;
  if (materials === undefined) return null;
  return {
    region: materials.region ?? supply?.region ?? 'IEC',
    overrides: materials.overrides,
    membrane: materials.membrane,
    zones: request.zones.map((wire) => ({
      id: wire.id,
      wet: wire.wet,
      outline: wire.outline,
      bare: [],
      ...laidIn(wire, plans, fittings),
    })),
    sensors: [...fittings.values()].filter(({ sensor }) => sensor?.kind === 'placed').length,
  };
};

/** Quantities of a planned layout; undefined where none are asked for. */
export const materialsOf = (
  request: LayoutRequest,
  plans: readonly ZonePlan[],
  fittings: ReadonlyMap<string, ZoneFittings>,
): MaterialReport | undefined => {
  const input = materialInput(request, plans, fittings);
  if (input === null) return undefined;
  const outcome = materialQuantities(input);
  return outcome.kind === 'report' ? outcome : undefined;
};

export const wireMaterials = (report: MaterialReport) => {
  const { kind: _kind, ...rest } = report;
  return materialResponseSchema.parse(JSON.parse(answerText(rest)));
};
