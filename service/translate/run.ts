import type { Run } from '../../solver/check/runs.js';
import { mm, wirePoint } from './numbers.js';

export const wireRun = (run: Run) => ({
  n: run.n,
  from: wirePoint(run.from),
  to: wirePoint(run.to),
  studs: run.studs,
  length: mm(run.length),
  cumulative: mm(run.cumulative),
});
