import type { ColdLead } from '../../solver/job/cold-lead.js';
import type { Crossing } from '../../solver/job/crossing.js';
import type { Laying } from '../../solver/job/laying.js';
import { layingSteps } from '../../solver/job/laying-steps.js';
import type { SensorOutcome, SensorPlace } from '../../solver/job/sensor.js';
import { finite, mm, wirePoint, wireRing } from './numbers.js';

export const wireColdLead = (lead: ColdLead) => ({
  path: wireRing(lead.path),
  floor: mm(lead.floor),
  rise: mm(lead.rise),
  needed: mm(lead.needed),
});

export const wireCrossing = (dryZone: string, crossing: Crossing) => ({
  dryZone,
  lead: wireRing(crossing.lead),
  joint: wirePoint(crossing.joint),
  entry: wirePoint(crossing.entry),
  lastDry: wirePoint(crossing.lastDry),
  enter: wirePoint(crossing.enter),
  leave: wirePoint(crossing.leave),
  slant: mm(crossing.slant),
  stud: crossing.stud === null ? null : wirePoint(crossing.stud),
  groove: crossing.groove === null ? null : { width: crossing.groove.width, depth: crossing.groove.depth },
  parts: {
    run: mm(crossing.parts.run),
    climb: mm(crossing.parts.climb),
    top: mm(crossing.parts.top),
    descent: mm(crossing.parts.descent),
    wrap: mm(crossing.parts.wrap),
    turns: crossing.parts.turns,
    cornerSaving: mm(crossing.parts.cornerSaving),
  },
  leadIn: mm(crossing.leadIn),
  missed: {
    crossing: crossing.missed.crossing === null ? null : mm(crossing.missed.crossing),
    joint: crossing.missed.joint === null ? null : mm(crossing.missed.joint),
  },
});

const wirePlace = (place: SensorPlace) => ({
  at: wirePoint(place.at),
  lead: wireRing(place.lead),
  length: {
    floor: mm(place.length.floor),
    inWall: mm(place.length.inWall),
    rise: mm(place.length.rise),
    total: mm(place.length.total),
  },
  between: [place.between[0], place.between[1]] as [number, number],
  gap: mm(place.gap),
  depth: mm(place.depth),
});

export const wireSensor = (outcome: SensorOutcome) =>
  outcome.kind === 'placed'
    ? {
        placed: true,
        sensor: wirePlace(outcome.sensor),
        spare: outcome.spare === null ? null : wirePlace(outcome.spare),
        reason: null,
        by: null,
        detail: outcome.spareMissing,
      }
    : {
        placed: false,
        sensor: null,
        spare: null,
        reason: outcome.reason,
        by: outcome.by === null ? null : finite(outcome.by),
        detail: outcome.message,
      };

const mark = (value: number | null): number | null => (value === null ? null : finite(value));

/**
 * Runs in the order of work with the numbers of their straight pieces in the zone's `runs`: a run and its step over
 * are two pieces; laid from the far end the pieces count down.
 */
const wireLaidRuns = ({ order, runs }: Laying) => {
  const piecesOf = (run: Laying['runs'][number]): number => (run.studsOver === null ? 1 : 2);
  let before = 0;
  const all = runs.reduce((sum, run) => sum + piecesOf(run), 0);
  return runs.map((run) => {
    const first = before + 1;
    before += piecesOf(run);
    const pieces: [number, number] =
      order === 'from-joint' ? [first, before] : [all + 1 - first, all + 1 - before];
    return {
      n: run.n,
      pieces,
      from: wirePoint(run.from),
      to: wirePoint(run.to),
      studsAlong: run.studsAlong,
      beyond: mm(run.beyond),
      studsOver: run.studsOver,
      turn: run.turn,
      length: mm(run.length),
      used: mm(run.used),
      mark: mark(run.mark),
    };
  });
};

export const wireLaying = (laying: Laying, overCurb: boolean) => ({
  order: laying.order,
  runs: wireLaidRuns(laying),
  steps: layingSteps(laying, overCurb).map(({ n, kind, used, sentence }) => ({
    n,
    kind,
    used: mm(used),
    sentence,
  })),
  checkpoints: laying.checkpoints.map((point) => ({
    afterRun: point.afterRun,
    at: wirePoint(point.at),
    used: mm(point.used),
    mark: mark(point.mark),
    allowed: mm(point.allowed),
  })),
  midpoint: {
    run: laying.midpoint.run,
    at: laying.midpoint.at === null ? null : wirePoint(laying.midpoint.at),
    mark: mark(laying.midpoint.mark),
  },
  endMark: mark(laying.end.mark),
});
