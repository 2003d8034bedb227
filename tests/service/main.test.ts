import { type ChildProcess, spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { showerRequest } from '../helpers/requests.js';

const main = fileURLToPath(new URL('../../service/main.ts', import.meta.url));
const children: ChildProcess[] = [];

interface Started {
  readonly child: ChildProcess;
  readonly log: () => string;
  readonly exited: Promise<number | null>;
  line(pattern: RegExp): Promise<RegExpExecArray>;
}

const start = (env: Readonly<Record<string, string>>): Started => {
  const child = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), main], {
    env: { PATH: process.env.PATH, WORKERS: '1', ...env },
  });
  children.push(child);
  let text = '';
  const collect = (chunk: Buffer): void => {
    text += chunk.toString();
  };
  child.stdout.on('data', collect);
  child.stderr.on('data', collect);
  const exited = new Promise<number | null>((resolve) => child.on('exit', resolve));
  return {
    child,
    exited,
    log: () => text,
    line: async (pattern) => {
      for (let k = 0; k < 2000; k += 1) {
        const found = pattern.exec(text);
        if (found !== null) return found;
        await new Promise((resolve) => setTimeout(resolve, 50));
      }
      throw new Error(`never logged ${pattern}:\n${text}`);
    },
  };
};

afterEach(() => {
  for (const child of children.splice(0)) child.kill('SIGKILL');
});

describe('main', () => {
  it('serves, and on SIGTERM lets work under way end before it leaves', async () => {
    const service = start({ PORT: '0' });
    const port = (await service.line(/"port":(\d+)/))[1];
    const url = `http://127.0.0.1:${port}`;
    expect((await fetch(`${url}/livez`)).status).toBe(200);
    await service.line(/warmed up/);
    const answer = fetch(`${url}/v1/layouts`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ ...showerRequest(), effort: 'quick' }),
    });
    await new Promise((resolve) => setTimeout(resolve, 200));
    service.child.kill('SIGTERM');
    const response = await answer;
    expect([200, 422]).toContain(response.status);
    await response.text();
    expect(await service.exited).toBe(0);
    expect(service.log()).toContain('stopped');
  });

  it('says which variable is wrong and does not start', async () => {
    const service = start({ PORT: 'many', LOG_LEVEL: 'loud' });
    expect(await service.exited).not.toBe(0);
    expect(service.log()).toMatch(/PORT[\s\S]*LOG_LEVEL/);
  });
});
