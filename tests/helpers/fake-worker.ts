import type { WorkOutcome, WorkTask } from '../../service/pool/task.js';

/** Stands in for the solver: the id of the first zone says what to do. */
export default function work(task: WorkTask): WorkOutcome {
  const what = task.kind === 'layout' ? (task.request.zones[0]?.id ?? '') : 'answer';
  if (what.startsWith('hang')) {
    for (;;) {
      // Only the end of the thread stops this.
    }
  }
  const pause = /^pause(\d+)/.exec(what);
  if (pause !== null) {
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, Number(pause[1]));
  }
  if (what.startsWith('throw')) throw new Error('made to fail');
  if (what.startsWith('exit')) process.exit(3);
  if (what.startsWith('impossible')) {
    return { kind: 'problem', problem: { slug: 'impossible-layout', detail: 'made to be impossible' } };
  }
  return {
    kind: 'answer',
    json: JSON.stringify({ id: task.id, echo: what }),
    timings: { prepare: 1, solve: 2, verify: 3 },
    sheet: null,
    repeatable: !what.startsWith('cut'),
  };
}
