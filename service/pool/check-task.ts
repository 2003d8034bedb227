import { checkTrace } from '../../solver/check/check-trace.js';
import { runsOf } from '../../solver/check/runs.js';
import type { CheckRequest } from '../schemas/check-request.js';
import type { CheckAnswer } from '../schemas/check-response.js';
import { wireReport } from '../translate/report.js';
import { wireRun } from '../translate/run.js';
import { toCable, toZone } from '../translate/zone.js';
import type { PhaseClock } from './phase-clock.js';
import type { WorkOutcome } from './task.js';

/** Judges a path that came from anywhere. */
export const checkTask = (request: CheckRequest, id: string, clock: PhaseClock): WorkOutcome => {
  const { lattice, spacing, placementSlopPerTurn, path, reserve } = request;
  clock.enter('verify');
  const zone = toZone(request.zone, lattice.pitch);
  const setting = { lattice, spacing, placementSlopPerTurn };
  const report = checkTrace(zone, setting, toCable(request.cable), { path, reserve });
  const answer: CheckAnswer = {
    id,
    ...wireReport(report),
    runs: runsOf(path, lattice, zone.leadIn).map(wireRun),
  };
  return {
    kind: 'answer',
    json: JSON.stringify(answer),
    timings: clock.timings(),
    sheet: null,
    repeatable: true,
  };
};
