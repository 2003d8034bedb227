/** The order of work as a list that a person can follow. */
import type { Point } from '../problem.js';
import type { Checkpoint, LaidRun, Laying } from './laying.js';

export type StepKind =
  | 'place-joint'
  | 'place-end'
  | 'lead-in'
  | 'run'
  | 'midpoint'
  | 'checkpoint'
  | 'end'
  | 'over-curb';

export interface LayingStep {
  readonly n: number;
  readonly kind: StepKind;
  /** Run the step lays or follows; null outside the runs. */
  readonly run: number | null;
  readonly at: Point | null;
  /** Cable laid after the step, mm. */
  readonly used: number;
  readonly mark: number | null;
  readonly sentence: string;
}

/** How lengths and places read; `place` gets mm. */
export interface Wording {
  length(mm: number): string;
  place(at: Point): string;
}

export const METRIC: Wording = {
  length: (mm) => (mm >= 1000 ? `${(mm / 1000).toFixed(2)} m` : `${mm.toFixed(0)} mm`),
  place: ([x, y]) => `(${x.toFixed(0)}, ${y.toFixed(0)})`,
};

const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`;

const reads = (mark: number | null): string =>
  mark === null ? '' : ` The mark there reads ${mark.toFixed(2)}.`;

const runSentence = (run: LaidRun, w: Wording): string => {
  const beyond = run.beyond > 0.5 ? ` and ${w.length(run.beyond)} more` : '';
  const head = `Run ${run.n}: ${count(run.studsAlong, 'stud')}${beyond} from ${w.place(run.from)} to ${w.place(run.to)}, ${w.length(run.length)}`;
  const turn =
    run.turn === null
      ? '.'
      : run.studsOver === null
        ? `; then turn ${run.turn}.`
        : `; then turn ${run.turn}, ${count(run.studsOver, 'stud')} over, and ${run.turn} again.`;
  return `${head}${turn} Cable laid: ${w.length(run.used)}.`;
};

/** What to do when a mark is off by more than the allowance, in full; each checkpoint repeats it in short. */
export const CHECKPOINT_ACTION =
  'Count the studs of the runs since the last checkpoint and put right what is wrong. If the count is right, leave the cable as it lies and plan the rest anew from here with the cable that is left; never stretch, bunch or cut it.';

const checkpointSentence = (c: Checkpoint, w: Wording): string => {
  const where = `Checkpoint after run ${c.afterRun}, at ${w.place(c.at)}`;
  const mark =
    c.mark === null || c.marks === null
      ? `${w.length(c.used)} of cable should be laid`
      : `the mark should read ${c.mark.toFixed(2)} (${c.marks[0].toFixed(2)} to ${c.marks[1].toFixed(2)})`;
  return `${where}: ${mark}, within ${w.length(c.allowed)}. Beyond that, count studs back to the last checkpoint, then plan the rest anew from here.`;
};

/**
 * Steps in the order of work. `overCurb`: the cable leaves the zone over a curb (else on the level) to a joint on the
 * dry floor.
 */
export function layingSteps(
  laying: Laying,
  overCurb: boolean,
  wording: Wording = METRIC,
): readonly LayingStep[] {
  const steps: LayingStep[] = [];
  const add = (step: Omit<LayingStep, 'n'>): void => {
    steps.push({ n: steps.length + 1, ...step });
  };
  const { runs, checkpoints, midpoint, end, leadIn, cable } = laying;
  const entry = (laying.order === 'from-joint' ? runs[0]?.from : runs[runs.length - 1]?.to) ?? null;
  const window = `A longer cable goes on along the reserve, to ${wording.place(end.latest)} at most; a shorter one ends from ${wording.place(end.earliest)} on.`;
  if (laying.order === 'from-joint') {
    add({
      kind: 'place-joint',
      run: null,
      at: leadIn > 0 ? null : entry,
      used: 0,
      mark: null,
      sentence:
        leadIn > 0 || entry === null
          ? 'Fix the hot-to-cold joint in its place.'
          : `Fix the hot-to-cold joint at ${wording.place(entry)}; the cable is laid from here.`,
    });
    if (leadIn > 0 && entry !== null)
      add({
        kind: 'lead-in',
        run: null,
        at: entry,
        used: leadIn,
        mark: null,
        sentence: `Lay ${wording.length(leadIn)} of heating cable up to ${wording.place(entry)}.`,
      });
  } else
    add({
      kind: 'place-end',
      run: null,
      at: end.at,
      used: 0,
      mark: end.mark,
      sentence: `Put the end of the cable at ${wording.place(end.at)} and work back to the entry.${reads(end.mark)} ${
        end.mark === null
          ? ''
          : 'If the mark shows another length, move the end by the difference along the reserve or back along the path, and add the difference to every mark below. '
      }${window}`,
    });
  for (const run of runs) {
    add({
      kind: 'run',
      run: run.n,
      at: run.to,
      used: run.used,
      mark: run.mark,
      sentence: runSentence(run, wording),
    });
    if (midpoint.run === run.n && midpoint.at !== null)
      add({
        kind: 'midpoint',
        run: run.n,
        at: midpoint.at,
        used: midpoint.fromJoint,
        mark: midpoint.mark,
        sentence: `The middle of the cable lies on run ${run.n}, at ${wording.place(midpoint.at)}.${reads(midpoint.mark)}`,
      });
    const check = checkpoints.find((c) => c.afterRun === run.n);
    if (check !== undefined)
      add({
        kind: 'checkpoint',
        run: run.n,
        at: check.at,
        used: check.used,
        mark: check.mark,
        sentence: checkpointSentence(check, wording),
      });
  }
  if (laying.order === 'from-joint')
    add({
      kind: 'end',
      run: runs.length,
      at: end.at,
      used: cable.length,
      mark: end.mark,
      sentence: `The cable ends at ${wording.place(end.at)}.${reads(end.mark)} ${window}`,
    });
  else
    add({
      kind: 'over-curb',
      run: null,
      at: entry,
      used: cable.length,
      mark: null,
      sentence: `${
        overCurb
          ? 'Lead the cable out over the curb in its groove, square to it, half a turn about the last stud on the dry floor, '
          : 'Lead the cable out over the threshold, square to it, '
      }and on to the joint: ${wording.length(leadIn)} of heating cable from ${entry === null ? 'the entry' : wording.place(entry)}.`,
    });
  return steps;
}
