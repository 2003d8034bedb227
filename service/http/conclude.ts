import { shortHash } from '../canonical.js';
import type { Deps } from '../deps.js';
import type { Ending } from '../jobs/job-store.js';
import type { WorkKind, WorkResult, WorkTask } from '../pool/task.js';
import type { Answer } from '../store/answer-store.js';

/** What makes the work lighter. */
const EASIER: Readonly<Record<WorkKind, string>> = {
  layout: 'Try effort "quick", a larger pitch, or fewer zones at once.',
  fits: 'Try effort "quick", a larger pitch, or fewer zones at once.',
  continuation: 'Try effort "quick" or a larger pitch.',
  check: 'Send a path with fewer vertices, or a simpler zone.',
};

/** Turns what became of a task into what its client may know, keeping the answer if there is one. */
export const conclude = (deps: Deps, task: WorkTask, result: WorkResult): Ending => {
  switch (result.kind) {
    case 'answer': {
      const answer: Answer = {
        id: task.id,
        kind: task.kind,
        request: task.request,
        json: result.json,
        timings: result.timings,
        sheet: result.sheet,
        // Weak: timings may differ between equal answers.
        etag: `W/"${shortHash(result.json)}"`,
        repeatable: result.repeatable,
      };
      deps.answers.put(answer);
      return { kind: 'done', answer };
    }
    case 'problem':
      return { kind: 'failed', problem: result.problem };
    case 'stopped':
      return {
        kind: 'failed',
        problem: {
          slug: 'out-of-budget',
          detail: `The work went past its time and was stopped. ${EASIER[task.kind]}`,
        },
      };
    case 'crashed':
      deps.log.error({ id: task.id, kind: task.kind, reason: result.reason }, 'solve crashed');
      return {
        kind: 'failed',
        problem: { slug: 'not-solved', detail: 'The solver stopped on a fault of its own; it was recorded.' },
      };
    case 'cancelled':
      return { kind: 'cancelled' };
  }
};
