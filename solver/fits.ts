/** Which cable: every entry of the catalogue ranked for each zone. */
import type { Legal } from './choose.js';
import { chooseOrigin } from './lattice/choose-origin.js';
import { tooHeavy } from './parts/plan-parts.js';
import { judgeCables } from './plan.js';
import type { CableVerdict, PlanRequest, PlanTools } from './plan-types.js';
import type { Lattice, Setting, Zone } from './problem.js';

/** Like a layout request; a cable that a zone insists on is ranked among the others. */
export interface FitsRequest extends PlanRequest {
  /** Most power one cable may draw, W; null for no limit. */
  readonly maxLoad: number | null;
}

/** A layout of one cable in one zone, and what follows from it. */
export interface FitLayout extends Legal {
  /** Heated floor, the buffer's included, for each length of cable laid in the zone, mm. */
  readonly meanSpacing: number;
}

export interface CableFit extends CableVerdict {
  /** 1 = best; null where the cable does not fit. */
  readonly rank: number | null;
  /** The best layout found; also of a cable refused for its density or the floor it leaves cold. */
  readonly layout: FitLayout | null;
}

export interface ZoneFits {
  readonly zone: Zone;
  /** Ranked ones first; the others follow in the order of the catalogue. */
  readonly cables: readonly CableFit[];
}

export interface FitsOutcome {
  readonly lattice: Lattice;
  readonly zones: readonly ZoneFits[];
  readonly guardFired: boolean;
  readonly work: number;
}

/** Ranks the whole catalogue for every zone with one search each. The same request gives the same outcome. */
export function planFits(request: FitsRequest, tools: Omit<PlanTools, 'accept'>): FitsOutcome {
  tools.onPhase?.('prepare');
  const { pitch } = request.lattice;
  const origin = request.lattice.origin ?? chooseOrigin(request.zones, pitch);
  const setting: Setting = {
    lattice: { pitch, origin },
    spacing: request.spacing,
    placementSlopPerTurn: request.placementSlopPerTurn,
  };
  const { engine, expired, onPhase } = tools;
  const plain: PlanTools = { engine, expired, ...(onPhase ? { onPhase } : {}) };
  let work = 0;
  const zones = request.zones.map((zone): ZoneFits => {
    const ranked = rankZone(zone, setting, request, plain);
    work += ranked.work;
    return { zone, cables: ranked.cables };
  });
  return { lattice: setting.lattice, zones, guardFired: tools.expired(), work };
}

function rankZone(
  zone: Zone,
  setting: Setting,
  request: FitsRequest,
  tools: PlanTools,
): { cables: readonly CableFit[]; work: number } {
  const { catalogue, maxLoad } = request;
  const light = catalogue.filter(({ power }) => maxLoad === null || power <= maxLoad);
  const { legal, verdicts, work } = judgeCables(zone, setting, light, request, tools, 'always');
  const best = (cable: string) => legal.find(({ found }) => found.cable.id === cable) ?? null;
  const place = (cable: string) => legal.findIndex(({ found }) => found.cable.id === cable);
  const fitting = verdicts
    .filter(({ fits }) => fits)
    .sort((a, b) => Number(b.chosen) - Number(a.chosen) || place(a.cable) - place(b.cable))
    .map((verdict, k) => ({ ...verdict, rank: k + 1 }));
  const others = catalogue.flatMap((cable): readonly (CableVerdict & { rank: null })[] => {
    const verdict = verdicts.find((v) => v.cable === cable.id) ?? tooHeavy(zone.id, cable, maxLoad ?? 0);
    return verdict.fits ? [] : [{ ...verdict, rank: null }];
  });
  const cables = [...fitting, ...others].map((verdict): CableFit => {
    const laid = best(verdict.cable);
    return { ...verdict, layout: laid && { ...laid, meanSpacing: meanSpacing(laid, zone) } };
  });
  return { cables, work };
}

/** Area over length (derived), mm. */
function meanSpacing({ check, found }: Legal, zone: Zone): number {
  const heated = (check.coverage.heatedArea + check.coverage.bufferHeatedArea) * 1e6;
  return heated / (found.cable.length - zone.leadIn);
}
