import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { createApp, createDeps } from '../../service/app.js';
import { type Config, readConfig } from '../../service/config.js';
import type { Deps } from '../../service/deps.js';

export interface RunningService {
  readonly url: string;
  readonly deps: Deps;
  readonly port: number;
  post(path: string, body: unknown, headers?: Readonly<Record<string, string>>): Promise<Response>;
  close(): Promise<void>;
}

export const fakeWorker = new URL('./fake-worker.ts', import.meta.url);

/** The service on a free port of loopback, with real threads. */
export const startService = async (config: Partial<Config> = {}, worker?: URL): Promise<RunningService> => {
  const deps = createDeps({ ...readConfig({ LOG_LEVEL: 'silent', WORKERS: '1' }), ...config }, worker);
  const server = createServer(createApp(deps));
  await new Promise<void>((resolve) => {
    server.listen(0, '127.0.0.1', resolve);
  });
  const { port } = server.address() as AddressInfo;
  const url = `http://127.0.0.1:${port}`;
  return {
    url,
    deps,
    port,
    post: (path, body, headers = {}) =>
      fetch(url + path, {
        method: 'POST',
        headers: { 'content-type': 'application/json', ...headers },
        body: typeof body === 'string' ? body : JSON.stringify(body),
      }),
    close: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => {
        server.close(resolve);
      });
      await Promise.all([deps.pool.destroy(), deps.press.destroy()]);
    },
  };
};

/** Waits until `ready` holds; fails after ten seconds. */
export const until = async (ready: () => boolean): Promise<void> => {
  const deadline = Date.now() + 10_000;
  while (!ready()) {
    if (Date.now() > deadline) throw new Error('waited in vain');
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
};
