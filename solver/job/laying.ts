/** The order of work for one cable: runs, checkpoints against the printed metre marks, midpoint, end. */
import { cableAt, earliestAt, type Line, latestAt, lineOf, pointAt } from '../check/line.js';
import {
  type Cable,
  cornerRadius,
  type Lattice,
  type Point,
  type Ring,
  type Spacing,
  type Trace,
} from '../problem.js';
import { CHECKPOINT_SPAN, type CheckpointSpan, checkpointRuns } from './checkpoints.js';
import { layingRuns } from './laying-runs.js';

/** Metre marks printed on the heating cable. */
export interface MetreMarks {
  /** Mark at the hot-to-cold joint, m. */
  readonly start: number;
  /** Whether marks grow or shrink from the joint to the end. */
  readonly direction: 'up' | 'down';
}

export interface LayingTask {
  readonly wet: boolean;
  readonly trace: Trace;
  readonly lattice: Lattice;
  readonly spacing: Spacing;
  readonly placementSlopPerTurn: number;
  /** Heating cable between the joint and the first point of the path, mm. */
  readonly leadIn: number;
  readonly cable: Cable;
  readonly marks: MetreMarks | null;
  readonly span: CheckpointSpan | null;
}

/** Lengths mm, marks m. */
export interface LaidRun {
  /** Counts from where laying begins: from the joint on a dry floor, from the far end in a wet zone. */
  readonly n: number;
  readonly from: Point;
  readonly to: Point;
  /** Whole studs along the run, and what is left over where it ends between two studs. */
  readonly studsAlong: number;
  readonly beyond: number;
  readonly length: number;
  /** Turn at the end of the run, seen by the layer walking along it. */
  readonly turn: 'left' | 'right' | null;
  /** Studs over to the next parallel run; null where the cable turns off or ends. */
  readonly studsOver: number | null;
  /** Cable laid when the end of the run is reached: sharp length - corners passed x saving (+ lead-in from the joint). */
  readonly used: number;
  /** The same place measured along the cable from the joint. */
  readonly fromJoint: number;
  readonly mark: number | null;
  /** Corners passed, the one at the end of the run not among them. */
  readonly corners: number;
}

export interface Checkpoint {
  readonly afterRun: number;
  readonly at: Point;
  readonly used: number;
  readonly fromJoint: number;
  readonly mark: number | null;
  /** tolerance x cable laid so far + slop per turn x turns so far, mm: both ways. */
  readonly allowed: number;
  /** Lowest and highest mark within the allowance. */
  readonly marks: readonly [number, number] | null;
}

export interface Midpoint {
  /** Null where the midpoint lies on the lead-in. */
  readonly run: number | null;
  readonly at: Point | null;
  readonly fromJoint: number;
  readonly mark: number | null;
}

export interface LayingEnd {
  readonly at: Point;
  /** Where a cable shorter or longer than nominal by the tolerance ends. */
  readonly earliest: Point;
  readonly latest: Point;
  readonly tolerance: number;
  readonly mark: number | null;
}

export interface Laying {
  readonly order: 'from-joint' | 'from-far-end';
  readonly runs: readonly LaidRun[];
  readonly checkpoints: readonly Checkpoint[];
  readonly midpoint: Midpoint;
  readonly end: LayingEnd;
  readonly leadIn: number;
  readonly cable: Cable;
}

/** Mark at a place `fromJoint` mm along the cable, m. */
export const markAt = (marks: MetreMarks, fromJoint: number): number =>
  marks.start + ((marks.direction === 'up' ? 1 : -1) * fromJoint) / 1000;

const maybeMark = (marks: MetreMarks | null, fromJoint: number): number | null =>
  marks === null ? null : markAt(marks, fromJoint);

/**
 * Dry floors are laid from the joint along the path; wet zones from the path's end back to the entry and out over the
 * curb. The path must be as long as the cable (to 1 mm) with its lead-in, so both orders agree at every place.
 */
export function planLaying(task: LayingTask): Laying {
  const { trace, lattice, spacing, cable, marks, leadIn, wet } = task;
  const r = cornerRadius(lattice);
  const path: Ring = wet ? [...trace.path].reverse() : trace.path;
  const line = lineOf({ path, reserve: [] }, r);
  const begun = wet ? 0 : leadIn;
  let position = 0;
  const ends: number[] = [];
  const runs = layingRuns(path, spacing.max * lattice.pitch).map((run): LaidRun => {
    const studsAlong = Math.floor(run.length / lattice.pitch + 1e-6);
    position += run.length;
    ends.push(position);
    const used = cableAt(line, begun, position);
    const fromJoint = wet ? cable.length - used : used;
    const corners = line.corners.filter((c) => c.position < position - 1e-6).length;
    position += run.over?.length ?? 0;
    return {
      n: run.n,
      from: run.from,
      to: run.to,
      studsAlong,
      beyond: Math.max(0, run.length - studsAlong * lattice.pitch),
      length: run.length,
      turn: run.turn,
      studsOver: run.over === null ? null : Math.round(run.over.length / lattice.pitch),
      used,
      fromJoint,
      mark: maybeMark(marks, fromJoint),
      corners,
    };
  });
  const chosen = new Set(
    checkpointRuns(
      runs.map((run) => run.used),
      task.span ?? CHECKPOINT_SPAN,
    ),
  );
  const forward = lineOf(trace, r);
  return {
    order: wet ? 'from-far-end' : 'from-joint',
    runs,
    checkpoints: runs.filter((run) => chosen.has(run.n)).map((run) => checkpoint(task, run)),
    midpoint: midpoint(task, line, ends),
    end: layingEnd(task, forward),
    leadIn,
    cable,
  };
}

function checkpoint({ cable, placementSlopPerTurn, marks }: LayingTask, run: LaidRun): Checkpoint {
  const allowed = cable.tolerance * run.used + placementSlopPerTurn * run.corners;
  return {
    afterRun: run.n,
    at: run.to,
    used: run.used,
    fromJoint: run.fromJoint,
    mark: run.mark,
    allowed,
    marks:
      marks === null || run.mark === null ? null : [run.mark - allowed / 1000, run.mark + allowed / 1000],
  };
}

function midpoint({ cable, leadIn, marks, wet }: LayingTask, line: Line, ends: readonly number[]): Midpoint {
  const half = cable.length / 2;
  const mark = maybeMark(marks, half);
  if (half < leadIn) return { run: null, at: null, fromJoint: half, mark };
  const position = earliestAt(line, wet ? 0 : leadIn, half) ?? line.end;
  // A place on the step over belongs to the run before it.
  let run = 1;
  ends.forEach((_, k) => {
    if (k > 0 && position > runStart(line, ends, k)) run = k + 1;
  });
  return { run, at: pointAt(line, position), fromJoint: half, mark };
}

/** Position of the first point of run k + 1: the corner that follows the step over after run k. */
const runStart = (line: Line, ends: readonly number[], k: number): number => {
  let start = ends[k - 1];
  for (const p of line.positions) if (p > ends[k - 1] && p < ends[k] - 1e-9) start = p;
  return start;
};

function layingEnd({ cable, leadIn, placementSlopPerTurn, trace, marks }: LayingTask, line: Line): LayingEnd {
  const turns = line.corners.filter((c) => c.position < line.pathEnd).length;
  const tolerance = cable.tolerance * cable.length + placementSlopPerTurn * turns;
  return {
    at: trace.path[trace.path.length - 1] ?? [0, 0],
    earliest: pointAt(line, earliestAt(line, leadIn, cable.length - tolerance) ?? line.end),
    latest: pointAt(line, latestAt(line, leadIn, cable.length + tolerance) ?? line.end),
    tolerance,
    mark: maybeMark(marks, cable.length),
  };
}
