import { afterAll, describe, expect, it } from 'vitest';
import { createDeps } from '../../../service/app.js';
import { readConfig } from '../../../service/config.js';
import { conclude } from '../../../service/http/conclude.js';
import type { WorkTask } from '../../../service/pool/task.js';
import { PROBLEMS } from '../../../service/problems.js';
import { layoutRequestSchema } from '../../../service/schemas/layout-request.js';
import { showerRequest } from '../../helpers/requests.js';
import { fakeWorker } from '../../helpers/service.js';

const deps = createDeps(readConfig({ LOG_LEVEL: 'silent', WORKERS: '1' }), fakeWorker);
const task: WorkTask = {
  kind: 'layout',
  id: 'one',
  softMs: 1,
  request: layoutRequestSchema.parse(showerRequest()),
};

afterAll(async () => {
  await Promise.all([deps.pool.destroy(), deps.press.destroy()]);
});

describe('conclude', () => {
  it('keeps an answer under its id', () => {
    const timings = { prepare: 1, solve: 1, verify: 1 };
    const ending = conclude(deps, task, {
      kind: 'answer',
      json: '{}',
      timings,
      sheet: null,
      repeatable: true,
    });
    expect(ending).toMatchObject({ kind: 'done', answer: { id: 'one', json: '{}' } });
    expect(deps.answers.get('one')?.request).toEqual(task.request);
  });

  it.each([
    [{ kind: 'stopped' } as const, 'out-of-budget'],
    [{ kind: 'crashed', reason: 'x' } as const, 'not-solved'],
  ])('%j becomes a problem below 500', (result, slug) => {
    const ending = conclude(deps, task, result);
    expect(ending).toMatchObject({ kind: 'failed', problem: { slug } });
    if (ending.kind === 'failed') expect(PROBLEMS[ending.problem.slug].status).toBeLessThan(500);
  });
});
