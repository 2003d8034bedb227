/** Plans a request in which zones too large for one cable are split into parts, each with its own. */
import { sweptArea } from '../bounds/area.js';
import { judgeParts, type PartsReport } from '../check/parts.js';
import { areaOf } from '../geometry/region.js';
import { routingArea, targetArea } from '../geometry/zone-area.js';
import { chooseOrigin } from '../lattice/choose-origin.js';
import { planLayout } from '../plan.js';
import type { CableVerdict, PlanOutcome, PlanRequest, PlanTools, ZonePlan } from '../plan-types.js';
import type { Cable, Setting, Zone } from '../problem.js';
import { reachedFloor, type Split, splitZone } from './split-zone.js';

/** When a zone is split: never; where no cable can heat 90 % of it; wherever no cable can heat all of it. */
export type SplitWish = 'never' | 'needed' | 'wanted';

export interface PartsRequest extends PlanRequest {
  readonly split: SplitWish;
  /** Most power one cable may draw, W; null for no limit. */
  readonly maxLoad: number | null;
  /** Zones that are not split whatever is wished. */
  readonly undivided: ReadonlySet<string>;
}

/** A zone laid in parts; the parts are zones of the outcome with ids "zone/1", "zone/2". */
export interface SplitReport {
  readonly zone: string;
  readonly split: Split;
  readonly parts: PartsReport;
}

export type PartsOutcome = PlanOutcome & { readonly splits: readonly SplitReport[] };

/** The zone of the request that a zone of the outcome belongs to: ids of requests hold no slash. */
export const wholeId = (id: string): string => id.split('/')[0] ?? id;

/** Share of the target that the longest cable must be able to sweep. */
const SHARE: Readonly<Record<Exclude<SplitWish, 'never'>, number>> = { needed: 0.9, wanted: 1 };

/** Ways to cut that are tried. */
const MOST_TRIES = 4;

/** Like planLayout, which it is where no zone is split. */
export function planInParts(request: PartsRequest, tools: PlanTools): PartsOutcome {
  tools.onPhase?.('prepare');
  const { pitch } = request.lattice;
  const origin = request.lattice.origin ?? chooseOrigin(request.zones, pitch);
  const setting: Setting = {
    lattice: { pitch, origin },
    spacing: request.spacing,
    placementSlopPerTurn: request.placementSlopPerTurn,
  };
  const light = request.catalogue.filter(({ power }) => request.maxLoad === null || power <= request.maxLoad);
  const heavy = request.catalogue.filter((cable) => !light.includes(cable));
  const plain: PlanRequest = { ...request, lattice: setting.lattice, catalogue: light };
  const parted = new Map<string, Done>();
  for (const zone of request.zones) {
    const done = tooLarge(zone, setting, light, request) ? inParts(zone, setting, plain, tools) : null;
    if (done) parted.set(zone.id, done);
  }
  const whole = planLayout({ ...plain, zones: request.zones.filter(({ id }) => !parted.has(id)) }, tools);
  const done = [...parted.values()];
  const verdicts = request.zones.flatMap(({ id }) => [
    ...(parted.get(id)?.outcome.verdicts ?? whole.verdicts.filter(({ zone }) => zone === id)),
    ...heavy
      .filter((cable) => (request.insisted.get(id) ?? cable.id) === cable.id)
      .map((cable) => tooHeavy(id, cable, request.maxLoad ?? 0)),
  ]);
  const guardFired = whole.guardFired || done.some(({ outcome }) => outcome.guardFired);
  if (whole.kind === 'impossible') return { ...whole, verdicts, guardFired, splits: [] };
  return {
    ...whole,
    zones: request.zones.flatMap(
      ({ id }) => parted.get(id)?.outcome.zones ?? whole.zones.filter(({ zone }) => zone.id === id),
    ),
    verdicts,
    guardFired,
    work: done.reduce((sum, { outcome }) => sum + outcome.work, whole.work),
    splits: done.map(({ report }) => report),
  };
}

/** Whether even the longest cable sweeps less of the floor within reach than it should; never where one is insisted on. */
function tooLarge(zone: Zone, setting: Setting, cables: readonly Cable[], request: PartsRequest): boolean {
  if (request.split === 'never' || request.undivided.has(zone.id) || cables.length === 0) return false;
  if (request.insisted.has(zone.id)) return false;
  const longest = Math.max(...cables.map(({ length }) => length)) - zone.leadIn;
  const most = sweptArea(setting, longest) / SHARE[request.split];
  return most < areaOf(targetArea(zone, routingArea(zone))) && most < reachedFloor(zone, setting);
}

interface Done {
  readonly outcome: Extract<PlanOutcome, { kind: 'planned' }>;
  readonly report: SplitReport;
}

/** The first cut whose parts can all be laid; null when there is none. */
function inParts(zone: Zone, setting: Setting, request: PlanRequest, tools: PlanTools): Done | null {
  for (const split of splitZone(zone, setting, request.catalogue).slice(0, MOST_TRIES)) {
    if (tools.expired()) return null;
    const outcome = planAll(split, request, tools);
    if (!outcome) continue;
    const parts = judgeParts(outcome.zones.map(partTrace), setting);
    if (parts.ok) return { outcome, report: { zone: zone.id, split, parts } };
  }
  return null;
}

/** All parts of a cut; null as soon as one cannot be laid: another cut is cheaper than insisting. */
function planAll(split: Split, request: PlanRequest, tools: PlanTools): Done['outcome'] | null {
  let all: Done['outcome'] | null = null;
  for (const { zone } of split.parts) {
    const outcome = planLayout({ ...request, zones: [zone] }, tools, false);
    if (outcome.kind !== 'planned') return null;
    all = all === null ? outcome : both(all, outcome);
  }
  return all;
}

const both = (a: Done['outcome'], b: Done['outcome']): Done['outcome'] => ({
  ...a,
  zones: [...a.zones, ...b.zones],
  verdicts: [...a.verdicts, ...b.verdicts],
  guardFired: a.guardFired || b.guardFired,
  work: a.work + b.work,
});

const partTrace = ({ zone, trace }: ZonePlan) => ({ zone, trace });

/** The verdict on a cable that draws more than `maxLoad` W. */
export const tooHeavy = (zone: string, cable: Cable, maxLoad: number): CableVerdict => ({
  zone,
  cable: cable.id,
  fits: false,
  chosen: false,
  reason: 'too-much-load',
  by: null,
  coverage: null,
  turns: null,
  detail: `it draws ${Math.round(cable.power)} W, one cable may draw ${Math.round(maxLoad)} W`,
});
