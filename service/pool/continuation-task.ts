import type { RuleVerdict } from '../../solver/check/report.js';
import { planRest, type RestOutcome } from '../../solver/continue/plan-rest.js';
import type { Problem } from '../problems.js';
import type { ContinuationRequest } from '../schemas/continuation-request.js';
import { toContinuationAnswer } from '../translate/continuation-answer.js';
import { finite, mm } from '../translate/numbers.js';
import { wireJudgedRule } from '../translate/report.js';
import { toCable, toZone } from '../translate/zone.js';
import type { WorkContext } from './context.js';
import type { PhaseClock } from './phase-clock.js';
import type { WorkOutcome } from './task.js';

const MOST_FAULTS = 50;

const illegal = (rules: readonly RuleVerdict[]): Problem => ({
  slug: 'illegal-laid-part',
  detail: `The laid part breaks ${rules.map(({ rule }) => rule).join(', ')}.`,
  errors: rules
    .flatMap(({ rule, violations }) =>
      violations.map(({ at, message }) => ({
        pointer: '/laid/path',
        detail: `${rule}, near [${mm(at[0])}, ${mm(at[1])}]: ${message}`,
      })),
    )
    .slice(0, MOST_FAULTS),
  members: { rules: rules.map(wireJudgedRule) },
});

const impossible = (outcome: Extract<RestOutcome, { kind: 'impossible' }>): Problem => {
  const { reason, by, left, drift, detail } = outcome;
  return {
    slug: outcome.guardFired ? 'out-of-budget' : 'impossible-continuation',
    detail: outcome.guardFired
      ? 'The clock ended the search before a legal way on was found. Try effort "quick".'
      : `From the node reached ${detail}.`,
    members: { reason, by: by === null ? null : finite(by), left: mm(left), drift: mm(drift) },
  };
};

/** Plans the way on from a laid part. */
export const continuationTask = async (
  request: ContinuationRequest,
  id: string,
  clock: PhaseClock,
  context: WorkContext,
): Promise<WorkOutcome> => {
  const { lattice, spacing, placementSlopPerTurn, laid, turnWeight, effort } = request;
  const zone = toZone(request.zone, lattice.pitch);
  const wire =
    typeof request.cable === 'string'
      ? request.catalogue.find((entry) => entry.id === request.cable)
      : request.cable;
  if (wire === undefined) throw new Error('the cable was looked up before the task began');
  const cable = toCable(wire);
  const outcome = await context.withEngine((engine) =>
    planRest(
      {
        setting: { lattice, spacing, placementSlopPerTurn },
        zone,
        cable,
        path: laid.path,
        reading: laid.reading ?? null,
        ...(request.planned === undefined ? {} : { planned: request.planned }),
        turnWeight,
        effort,
      },
      { engine, expired: context.expired, onPhase: (phase) => clock.enter(phase) },
    ),
  );
  if (outcome.kind === 'illegal') return { kind: 'problem', problem: illegal(outcome.rules) };
  if (outcome.kind === 'impossible') return { kind: 'problem', problem: impossible(outcome) };
  clock.enter('verify');
  const answer = toContinuationAnswer(outcome.plan, zone, cable, lattice, outcome.guardFired, id);
  return {
    kind: 'answer',
    json: JSON.stringify(answer),
    timings: clock.timings(),
    sheet: null,
    repeatable: !outcome.guardFired,
  };
};
