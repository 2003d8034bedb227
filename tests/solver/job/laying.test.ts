import { describe, expect, it } from 'vitest';
import { type Laying, type LayingTask, markAt, planLaying } from '../../../solver/job/laying.js';
import { layingRuns } from '../../../solver/job/laying-runs.js';
import { layingSteps } from '../../../solver/job/laying-steps.js';
import type { Cable, Ring } from '../../../solver/problem.js';
import { serpentine } from './serpentine.js';

/** (2 - pi/2) x 15 mm; derived. */
const SAVED = (2 - Math.PI / 2) * 15;

/** Three runs of 300 mm, 90 mm apart. */
const PATH = serpentine('x', 0, 300, [0, 90, 180]);
const SHARP = 300 + 90 + 300 + 90 + 300;

const cableOf = (length: number): Cable => ({
  id: 'K',
  length,
  power: 12,
  voltage: 230,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead: 3000,
});

const taskOf = (change: Partial<LayingTask> = {}): LayingTask => {
  const leadIn = change.leadIn ?? 0;
  return {
    wet: false,
    trace: {
      path: PATH,
      reserve: [
        [300, 180],
        [600, 180],
      ],
    },
    lattice: { pitch: 30, origin: [0, 0] },
    spacing: { min: 2, target: 3, max: 3 },
    placementSlopPerTurn: 2,
    leadIn,
    cable: cableOf(SHARP - 4 * SAVED + leadIn),
    marks: null,
    span: null,
    ...change,
  };
};

/** Twelve runs of 1.2 m. */
const LONG = serpentine('y', 0, 1200, [0, 90, 180, 270, 360, 450, 540, 630, 720, 810, 900, 990]);
const LONG_LENGTH = 12 * 1200 + 11 * 90 - 22 * SAVED;

const longTask = (change: Partial<LayingTask> = {}): LayingTask =>
  taskOf({ trace: { path: LONG, reserve: [] }, cable: cableOf(LONG_LENGTH), ...change });

// Numbers derived by hand; the corner saving (2 - pi/2) r is derived in the geometry table: r 15 -> 6.438 mm.
describe('planLaying from the joint', () => {
  it('counts studs along, studs over and the way to turn', () => {
    const { runs, order } = planLaying(taskOf());
    expect(order).toBe('from-joint');
    expect(runs.map(({ studsAlong, studsOver, turn }) => [studsAlong, studsOver, turn])).toEqual([
      [10, 3, 'left'],
      [10, 3, 'right'],
      [10, null, null],
    ]);
  });

  it('adds up the cable with rounded corners', () => {
    const { runs } = planLaying(taskOf());
    expect(SAVED).toBeCloseTo(6.438, 3);
    expect(runs[0].used).toBeCloseTo(300, 6);
    expect(runs[1].used).toBeCloseTo(690 - 2 * 6.438, 2);
    expect(runs[2].used).toBeCloseTo(1080 - 4 * 6.438, 2);
    expect(runs.map(({ corners }) => corners)).toEqual([0, 2, 4]);
  });

  it('counts a lead-in before the first run', () => {
    const { runs } = planLaying(taskOf({ leadIn: 250 }));
    expect(runs[0].used).toBeCloseTo(550, 6);
    expect(runs[0].fromJoint).toBeCloseTo(550, 6);
  });

  it('tells the rest of a run that ends between two studs', () => {
    const { runs } = planLaying(
      taskOf({
        trace: {
          path: [
            [0, 0],
            [0, 313],
          ],
          reserve: [],
        },
        cable: cableOf(313),
      }),
    );
    expect(runs[0].studsAlong).toBe(10);
    expect(runs[0].beyond).toBeCloseTo(13, 6);
  });

  it('reads marks that count up, count down and start anywhere', () => {
    const up = planLaying(taskOf({ marks: { start: 0, direction: 'up' } }));
    const down = planLaying(taskOf({ marks: { start: 117.5, direction: 'down' } }));
    expect(up.runs[1].mark).toBeCloseTo(0.677, 3);
    expect(down.runs[1].mark).toBeCloseTo(117.5 - 0.677, 3);
    expect(down.end.mark).toBeCloseTo(117.5 - (SHARP - 4 * SAVED) / 1000, 6);
    expect(markAt({ start: 3, direction: 'down' }, 5000)).toBe(-2);
  });

  it('finds the middle of the cable', () => {
    // 527.12 of cable: run 2 begins at 390 - 2 x 6.438 = 377.12, so 150 along it
    const { midpoint } = planLaying(taskOf({ marks: { start: 10, direction: 'up' } }));
    expect(midpoint.run).toBe(2);
    expect(midpoint.at?.[0]).toBeCloseTo(150, 6);
    expect(midpoint.at?.[1]).toBe(90);
    expect(midpoint.mark).toBeCloseTo(10 + (SHARP - 4 * SAVED) / 2000, 6);
  });

  it('leaves the middle on the lead-in where it lies there', () => {
    const { midpoint } = planLaying(taskOf({ leadIn: 5000 }));
    expect(midpoint.run).toBeNull();
    expect(midpoint.fromJoint).toBeCloseTo((5000 + SHARP - 4 * SAVED) / 2, 6);
  });

  it('says where the end lands at worst and best', () => {
    const { end } = planLaying(taskOf());
    // 1 % of 1054.25 mm and 2 mm at each of 4 turns: 18.54 mm
    expect(end.tolerance).toBeCloseTo(18.542, 2);
    expect(end.earliest[0]).toBeCloseTo(300 - 18.542, 2);
    expect(end.latest[0]).toBeCloseTo(300 + 18.542, 2);
    expect(end.at).toEqual([300, 180]);
  });

  it('sets checkpoints 3 to 5 runs apart with tolerance and slop so far', () => {
    const { checkpoints, runs } = planLaying(longTask({ marks: { start: 0, direction: 'up' } }));
    expect(checkpoints.map(({ afterRun }) => afterRun)).toEqual([4, 8]);
    const first = checkpoints[0];
    // four runs, three steps over, six corners: 4800 + 270 - 6 x 6.438 = 5031.4; 1 % and 6 x 2 mm
    expect(first.used).toBeCloseTo(5031.37, 1);
    expect(first.allowed).toBeCloseTo(50.31 + 12, 1);
    expect(first.mark).toBeCloseTo(5.031, 3);
    expect(first.marks?.[0]).toBeCloseTo(5.031 - 0.0623, 3);
    expect(first.marks?.[1]).toBeCloseTo(5.031 + 0.0623, 3);
    expect(first.at).toEqual(runs[3].to);
  });
});

describe('planLaying from the far end', () => {
  const leadIn = 581.37;
  const task = taskOf({ wet: true, leadIn, marks: { start: 0, direction: 'up' } });
  const { runs, order, midpoint, end } = planLaying(task);

  it('begins at the end and counts runs from there', () => {
    expect(order).toBe('from-far-end');
    expect(runs[0].from).toEqual([300, 180]);
    expect(runs[2].to).toEqual([0, 0]);
    expect(runs.map(({ turn, studsOver }) => [turn, studsOver])).toEqual([
      ['left', 3],
      ['right', 3],
      [null, null],
    ]);
  });

  it('has the lead-in left when it comes to the curb', () => {
    expect(runs[2].used).toBeCloseTo(task.cable.length - leadIn, 6);
    expect(runs[2].fromJoint).toBeCloseTo(leadIn, 6);
  });

  it('reads marks that fall towards the joint', () => {
    expect(end.mark).toBeCloseTo(task.cable.length / 1000, 6);
    expect(runs[0].mark).toBeCloseTo((task.cable.length - 300) / 1000, 6);
    expect(runs[2].mark).toBeCloseTo(leadIn / 1000, 6);
  });

  it('finds the same middle as from the joint', () => {
    const forward = planLaying({ ...task, wet: false });
    expect(midpoint.at?.[0]).toBeCloseTo(forward.midpoint.at?.[0] ?? Number.NaN, 6);
    expect(midpoint.at?.[1]).toBe(forward.midpoint.at?.[1]);
    // run 2 of 3 from the joint would be run 2 from the end; here it lies on the joint's first run
    expect(midpoint.run).toBe(4 - (forward.midpoint.run ?? 0));
  });

  it('agrees with the order from the joint about the place of every straight piece', () => {
    const forward = planLaying({ ...longTask(), wet: false });
    const backward = planLaying({ ...longTask(), wet: true });
    forward.runs.forEach((run, k) => {
      const same = backward.runs[forward.runs.length - 1 - k];
      expect(same.to).toEqual(run.from);
      // from its start to its end a run is 1200 of cable either way
      expect(same.fromJoint).toBeCloseTo(run.fromJoint - 1200, 6);
    });
  });
});

describe('layingRuns', () => {
  it('takes a short piece between opposite runs for the step over', () => {
    const runs = layingRuns(PATH, 90);
    expect(runs.length).toBe(3);
    expect(runs[0].over).toEqual({ to: [300, 90], length: 90 });
  });

  it('takes a longer piece, or a step on in the same direction, for a run', () => {
    expect(layingRuns(PATH, 60).length).toBe(5);
    const jog: Ring = [
      [0, 0],
      [300, 0],
      [300, 60],
      [600, 60],
    ];
    expect(layingRuns(jog, 90).map(({ turn }) => turn)).toEqual(['left', 'right', null]);
  });
});

describe('layingSteps', () => {
  const steps = (laying: Laying, curb = true) => layingSteps(laying, curb);

  it('puts joint, runs, checkpoints, midpoint and end in the order of work', () => {
    const kinds = steps(planLaying(longTask({ marks: { start: 50, direction: 'down' } }))).map(
      ({ kind }) => kind,
    );
    expect(kinds[0]).toBe('place-joint');
    expect(kinds[kinds.length - 1]).toBe('end');
    expect(kinds.filter((kind) => kind === 'run').length).toBe(12);
    expect(kinds.filter((kind) => kind === 'checkpoint').length).toBe(2);
    expect(kinds.filter((kind) => kind === 'midpoint').length).toBe(1);
    expect(kinds.indexOf('checkpoint')).toBe(5);
  });

  it('puts the end down first and the curb last where it is laid backwards', () => {
    const all = steps(planLaying(longTask({ wet: true, leadIn: 600, cable: cableOf(LONG_LENGTH + 600) })));
    expect(all[0].kind).toBe('place-end');
    expect(all[0].at).toEqual(LONG[LONG.length - 1]);
    expect(all[all.length - 1].kind).toBe('over-curb');
    expect(all[all.length - 1].sentence).toContain('half a turn about the last stud');
    expect(all[all.length - 1].sentence).toContain('600 mm');
  });

  it('speaks of a threshold where there is no curb', () => {
    const all = steps(planLaying(longTask({ wet: true })), false);
    expect(all[all.length - 1].sentence).toContain('threshold');
    expect(all[all.length - 1].sentence).not.toContain('curb');
  });

  it('says in one sentence what to do on a run', () => {
    const all = steps(planLaying(taskOf()));
    expect(all[1].sentence).toBe(
      'Run 1: 10 studs from (0, 0) to (300, 0), 300 mm; then turn left, 3 studs over, and left again. Cable laid: 300 mm.',
    );
  });

  it('tells what to do when a mark is beyond its allowance', () => {
    const check = steps(planLaying(longTask({ marks: { start: 0, direction: 'up' } }))).find(
      ({ kind }) => kind === 'checkpoint',
    );
    expect(check?.sentence).toContain('5.03 (4.97 to 5.09)');
    expect(check?.sentence).toContain('plan the rest anew');
  });

  it('lays the lead-in before the first run of a dry floor that has one', () => {
    const all = steps(planLaying(taskOf({ leadIn: 250 })));
    expect(all.map(({ kind }) => kind).slice(0, 3)).toEqual(['place-joint', 'lead-in', 'run']);
    expect(all[1].used).toBe(250);
  });
});
