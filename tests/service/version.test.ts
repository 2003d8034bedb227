import { readFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { SERVICE_VERSION } from '../../service/version.js';

it('is the version of the package', async () => {
  const text = await readFile(new URL('../../package.json', import.meta.url), 'utf8');
  expect((JSON.parse(text) as { version: string }).version).toBe(SERVICE_VERSION);
});
