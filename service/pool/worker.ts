import { checkTask } from './check-task.js';
import { continuationTask } from './continuation-task.js';
import { EngineSlot } from './engine-slot.js';
import { fitsTask } from './fits-task.js';
import { layoutTask } from './layout-task.js';
import { PhaseClock } from './phase-clock.js';
import type { WorkOutcome, WorkTask } from './task.js';

const engines = new EngineSlot();

/** Entry of a solver thread: one task at a time. */
export default async function work(task: WorkTask): Promise<WorkOutcome> {
  const clock = new PhaseClock();
  const context = {
    expired: () => clock.elapsed() > task.softMs,
    withEngine: engines.use.bind(engines),
  };
  if (task.kind === 'layout') return layoutTask(task.request, task.id, clock, context);
  if (task.kind === 'fits') return fitsTask(task.request, task.id, clock, context);
  if (task.kind === 'continuation') return continuationTask(task.request, task.id, clock, context);
  return checkTask(task.request, task.id, clock);
}
