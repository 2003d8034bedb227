/**
 * The demo: starts the service, sends it an invented bathroom (or the request in the file named), prints what comes
 * back, writes the papers to out/.
 */
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { parse } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createApp, createDeps } from '../app.js';
import { readConfig } from '../config.js';
import { layoutRequestSchema } from '../schemas/layout-request.js';
import { layoutResponseSchema } from '../schemas/layout-response.js';
import { summary } from './summary.js';

const OUT = 'out';
const PAPERS = ['drawing.svg', 'drawing.dxf', 'runs.csv', 'sheet.pdf'] as const;

/** Beside this module, or in the sources where this module is the compiled one in dist/. */
const bathroom = (): string => {
  const beside = new URL('bathroom.json', import.meta.url);
  return fileURLToPath(
    existsSync(beside) ? beside : new URL('../../../service/demo/bathroom.json', import.meta.url),
  );
};

const fetched = async (url: string, init?: RequestInit): Promise<Response> => {
  const response = await fetch(url, init);
  if (response.status === 200) return response;
  throw new Error(`${init?.method ?? 'GET'} ${url} answered ${response.status}: ${await response.text()}`);
};

const show = async (url: string, file: string): Promise<void> => {
  const body = await readFile(file, 'utf8');
  const { name } = parse(file);
  console.log(`POST ${url}/v1/layouts with ${file} ...\n`);
  const headers = { 'content-type': 'application/json' };
  const response = await fetched(`${url}/v1/layouts`, { method: 'POST', headers, body });
  const answer: unknown = await response.json();
  const layout = layoutResponseSchema.parse(answer);
  console.log(summary(layoutRequestSchema.parse(JSON.parse(body)), layout));
  await mkdir(OUT, { recursive: true });
  const json = `${OUT}/${name}-layout.json`;
  await writeFile(json, `${JSON.stringify(answer, null, 2)}\n`);
  const files = [json];
  for (const paper of PAPERS) {
    const printed = await fetched(`${url}/v1/layouts/${layout.id}/${paper}`);
    const written = `${OUT}/${name}-${paper}`;
    await writeFile(written, Buffer.from(await printed.arrayBuffer()));
    files.push(written);
  }
  console.log(`\nWRITTEN\n${files.map((written) => `  ${written}`).join('\n')}`);
};

const demo = async (): Promise<void> => {
  const deps = createDeps(readConfig({ LOG_LEVEL: 'warn' }));
  const server = createServer(createApp(deps));
  try {
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    const { port } = server.address() as AddressInfo;
    await show(`http://127.0.0.1:${port}`, process.argv[2] ?? bathroom());
  } finally {
    server.closeAllConnections();
    server.close();
    await Promise.all([deps.pool.destroy(), deps.press.destroy()]);
  }
};

demo().catch((error: unknown) => {
  console.error(`The demo failed: ${error instanceof Error ? error.message : String(error)}`);
  process.exitCode = 1;
});
