import { planLayout } from '../../solver/plan.js';
import type { CableVerdict, PlanOutcome, PlanRequest } from '../../solver/plan-types.js';
import { sheetOf } from '../papers/sheet-of.js';
import type { Problem } from '../problems.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { toLayoutAnswer, wireVerdict } from '../translate/layout-answer.js';
import { toPlanRequest } from '../translate/plan-request.js';
import { preconditionProblem } from '../validate/precondition.js';
import type { WorkContext } from './context.js';
import type { PhaseClock } from './phase-clock.js';
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
  const plan: PlanRequest = toPlanRequest(request);
  const blocked = preconditionProblem(plan);
  if (blocked !== null) return { kind: 'problem', problem: blocked };
  const outcome = await context.withEngine((engine) =>
    planLayout(plan, {
      engine,
      expired: context.expired,
      onPhase: (phase) => clock.enter(phase),
    }),
  );
  if (outcome.kind === 'impossible') {
    const problem = outcome.guardFired ? outOfBudget(outcome.verdicts) : impossible(outcome, request);
    return { kind: 'problem', problem };
  }
  clock.enter('verify');
  const json = JSON.stringify(toLayoutAnswer(outcome, plan, id));
  const sheet = JSON.stringify(
    sheetOf(outcome, {
      id,
      title: 'Floor-warming cable',
      display: request.display,
      spacing: request.spacing,
      placementSlopPerTurn: request.placementSlopPerTurn,
    }),
  );
  return { kind: 'answer', json, timings: clock.timings(), sheet, repeatable: !outcome.guardFired };
};
