import { planInParts } from '../../solver/parts/plan-parts.js';
import type { CableVerdict, PlanOutcome } from '../../solver/plan-types.js';
import type { Problem } from '../problems.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { electricsOf } from '../translate/electrics.js';
import { toLayoutAnswer, wireVerdict } from '../translate/layout-answer.js';
import { materialsOf } from '../translate/materials.js';
import { splitOf } from '../translate/plan-request.js';
import { toSheets } from '../translate/sheet.js';
import type { WorkContext } from './context.js';
import { fitOut, sensorFits } from './fit-out.js';
import type { PhaseClock } from './phase-clock.js';
import { readyRequest } from './ready-request.js';
import type { WorkOutcome } from './task.js';

const impossible = (
  outcome: Extract<PlanOutcome, { kind: 'impossible' }>,
  request: LayoutRequest,
): Problem => {
  const cables = outcome.verdicts.filter(({ zone }) => outcome.zones.includes(zone));
  const index = (zone: string): number => request.zones.findIndex(({ id }) => id === zone);
  const reasons = (zone: string): string =>
    cables
      .filter((verdict) => verdict.zone === zone && !verdict.fits)
      .map(({ cable, detail }) => `${cable}: ${detail}`)
      .join('; ');
  return {
    slug: 'impossible-layout',
    detail: `No cable of the catalogue can be laid in ${outcome.zones.map((zone) => `zone "${zone}"`).join(', ')}.`,
    errors: outcome.zones.map((zone) => ({
      pointer: `/zones/${index(zone)}`,
      detail: `No cable fits zone "${zone}". ${reasons(zone)}`.trim(),
    })),
    members: { cables: cables.map(wireVerdict) },
  };
};

const outOfBudget = (verdicts: readonly CableVerdict[]): Problem => ({
  slug: 'out-of-budget',
  detail:
    'The clock ended the search before a legal layout was found. Try effort "quick", a larger pitch, or fewer zones at once.',
  members: { cables: verdicts.map(wireVerdict) },
});

/** Plans, and turns the outcome into the response body. */
export const layoutTask = async (
  request: LayoutRequest,
  id: string,
  clock: PhaseClock,
  context: WorkContext,
): Promise<WorkOutcome> => {
  const ready = readyRequest(request);
  if (ready.kind === 'problem') return ready;
  const { plan, setting, input, prepared, suiting, assumed } = ready;
  const accept = sensorFits(request, input, prepared);
  const outcome = await context.withEngine((engine) =>
    planInParts(
      { ...plan, ...splitOf(request) },
      {
        engine,
        expired: context.expired,
        onPhase: (phase) => clock.enter(phase),
        ...(accept === undefined ? {} : { accept }),
      },
    ),
  );
  if (outcome.kind === 'impossible') {
    const verdicts = [...outcome.verdicts, ...suiting.verdicts];
    const problem = outcome.guardFired
      ? outOfBudget(verdicts)
      : impossible({ ...outcome, verdicts }, request);
    return { kind: 'problem', problem };
  }
  clock.enter('verify');
  const fittings = fitOut({ request, input, prepared, planned: outcome }, setting);
  const electrics = request.supply === undefined ? undefined : electricsOf(outcome.zones, request.supply);
  const materials = materialsOf(request, outcome.zones, fittings);
  const parts = { fittings, electrics, materials, assumed, leftOut: suiting.verdicts };
  const json = JSON.stringify(toLayoutAnswer(outcome, plan, parts, id));
  const whole = { planned: outcome, fittings, electrics: electrics ?? null, materials };
  const sheet = JSON.stringify(toSheets(whole, request, id));
  return { kind: 'answer', json, timings: clock.timings(), sheet, repeatable: !outcome.guardFired };
};
