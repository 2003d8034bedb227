import type { CableFit, FitsOutcome } from '../../solver/fits.js';
import type { CableVerdict } from '../../solver/plan-types.js';
import type { Ring } from '../../solver/problem.js';
import type { FitsAnswer } from '../schemas/fits-response.js';
import { wireVerdict } from './layout-answer.js';
import { finite, mm, part, wirePoint, wireRing } from './numbers.js';
import { wireEnd } from './report.js';

export interface FitsParts {
  readonly paths: boolean;
  /** Verdicts on cables that were left out before planning. */
  readonly leftOut: readonly CableVerdict[];
  /** Buffers that were assumed, by zone id. */
  readonly assumed: ReadonlyMap<string, Ring>;
}

type WireFit = FitsAnswer['zones'][number]['cables'][number];

const wireFit = (fit: CableFit, paths: boolean): WireFit => {
  const { zone: _zone, chosen: _chosen, ...verdict } = wireVerdict(fit);
  const { layout } = fit;
  return {
    ...verdict,
    rank: fit.rank,
    unheatedArea: layout && part(layout.check.coverage.unheatedArea),
    heatDensity: layout && finite(layout.density),
    meanSpacing: layout && mm(layout.meanSpacing),
    end: layout && wireEnd(layout.check.end),
    ...(paths && layout
      ? { path: wireRing(layout.found.trace.path), reserve: wireRing(layout.found.trace.reserve) }
      : {}),
  };
};

/** Response body of a ranking without its timings. */
export const toFitsAnswer = (outcome: FitsOutcome, parts: FitsParts, id: string): FitsAnswer => ({
  id,
  lattice: { pitch: outcome.lattice.pitch, origin: wirePoint(outcome.lattice.origin) },
  zones: outcome.zones.map(({ zone, cables }) => {
    const leftOut = parts.leftOut
      .filter((verdict) => verdict.zone === zone.id)
      .map((verdict) => wireFit({ ...verdict, rank: null, layout: null }, false));
    const assumed = parts.assumed.get(zone.id);
    return {
      id: zone.id,
      best: cables.find(({ rank }) => rank === 1)?.cable ?? null,
      cables: [...cables.map((fit) => wireFit(fit, parts.paths)), ...leftOut],
      ...(assumed === undefined ? {} : { assumed: { buffer: { outline: wireRing(assumed) } } }),
    };
  }),
  guardFired: outcome.guardFired,
});
