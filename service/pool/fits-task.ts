import { planFits } from '../../solver/fits.js';
import { DEFAULTS } from '../schemas/defaults.js';
import type { FitsRequest } from '../schemas/fits-request.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { toFitsAnswer } from '../translate/fits-answer.js';
import type { WorkContext } from './context.js';
import type { PhaseClock } from './phase-clock.js';
import { readyRequest } from './ready-request.js';
import type { WorkOutcome } from './task.js';

/** Ranks the catalogue for every zone. */
export const fitsTask = async (
  request: FitsRequest,
  id: string,
  clock: PhaseClock,
  context: WorkContext,
): Promise<WorkOutcome> => {
  const { paths, ...rest } = request;
  // All entries are ranked, also where a zone insists on one.
  const zones = rest.zones.map(({ cable: _insisted, ...zone }) => zone);
  const asLayout: LayoutRequest = { ...rest, zones, display: DEFAULTS.display };
  const ready = readyRequest(asLayout);
  if (ready.kind === 'problem') return ready;
  const { plan, suiting, assumed } = ready;
  const outcome = await context.withEngine((engine) =>
    planFits(
      { ...plan, maxLoad: request.maxLoad ?? null },
      { engine, expired: context.expired, onPhase: (phase) => clock.enter(phase) },
    ),
  );
  const json = JSON.stringify(toFitsAnswer(outcome, { paths, leftOut: suiting.verdicts, assumed }, id));
  return { kind: 'answer', json, timings: clock.timings(), sheet: null, repeatable: !outcome.guardFired };
};
