import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { PROBLEMS } from '../../../service/problems.js';
import { openApiDocument } from '../../../service/spec/document.js';

const run = promisify(execFile);
const root = fileURLToPath(new URL('../../../', import.meta.url));
const document = JSON.parse(JSON.stringify(openApiDocument())) as Record<string, unknown>;

const strings = (value: unknown, key: string): string[] => {
  if (Array.isArray(value)) return value.flatMap((inner) => strings(inner, key));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, inner]) =>
    name === key && typeof inner === 'string' ? [inner] : strings(inner, key),
  );
};

const resolve = (pointer: string): unknown =>
  pointer
    .slice(2)
    .split('/')
    .reduce<unknown>(
      (at, part) => (at as Record<string, unknown> | undefined)?.[part.replaceAll('~1', '/')],
      document,
    );

describe('the OpenAPI document', () => {
  it('is the one that is committed', async () => {
    const committed = await readFile(join(root, 'api-spec/openapi.json'), 'utf8');
    expect(JSON.parse(committed)).toEqual(document);
  });

  it('refers only to what it holds (JSON Reference as used by OpenAPI 3.1)', () => {
    const references = strings(document, '$ref');
    expect(references.length).toBeGreaterThan(10);
    for (const reference of references) expect(resolve(reference)).toBeDefined();
  });

  it('gives each operation an id of its own', () => {
    const ids = strings(document.paths, 'operationId');
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('describes every problem that stands in the table, but those that may come from any address', () => {
    const text = JSON.stringify(document.paths);
    const general = ['bad-request', 'method-not-allowed', 'internal-error'];
    for (const slug of Object.keys(PROBLEMS)) {
      if (!general.includes(slug)) expect(text, slug).toContain(`/problems/${slug}`);
    }
  });

  it('forbids unknown fields in requests', () => {
    const schemas = resolve('#/components/schemas') as Record<string, { additionalProperties?: unknown }>;
    for (const name of ['LayoutRequest', 'Zone', 'Cable', 'Exclusion', 'CheckRequest', 'Spacing']) {
      expect(schemas[name]?.additionalProperties, name).toBe(false);
    }
  });

  it('is found stale by --check when it is', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'oxturn-spec-'));
    await mkdir(join(folder, 'api-spec'));
    const check = (): Promise<unknown> =>
      run(
        process.execPath,
        ['--import', import.meta.resolve('tsx'), join(root, 'service/spec/write.ts'), '--check'],
        { cwd: folder },
      );
    await writeFile(join(folder, 'api-spec/openapi.json'), `${JSON.stringify(document, null, 2)}\n`);
    await expect(check()).resolves.toBeDefined();
    await writeFile(join(folder, 'api-spec/openapi.json'), '{}\n');
    await expect(check()).rejects.toMatchObject({ code: 1 });
  });
});
