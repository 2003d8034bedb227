import { createServer } from 'node:http';
import { createApp, createDeps } from './app.js';
import { readConfig } from './config.js';

const HEADERS_TIMEOUT_MS = 15_000;
const REQUEST_TIMEOUT_MS = 60_000;

const config = readConfig(process.env);
const deps = createDeps(config);
const server = createServer(
  { headersTimeout: HEADERS_TIMEOUT_MS, requestTimeout: REQUEST_TIMEOUT_MS },
  createApp(deps),
);

server.listen(config.PORT, () => {
  const address = server.address();
  deps.log.info({ port: typeof address === 'object' ? address?.port : config.PORT }, 'listening');
  // Warms a thread up and shows early when planning does not work.
  void deps.readiness.state().then((state) => deps.log.info({ state }, 'first probe'));
});

let stopping = false;

/** Takes nothing new, lets work under way end, then leaves. */
const stop = async (signal: string): Promise<void> => {
  if (stopping) return;
  stopping = true;
  deps.log.info({ signal }, 'shutting down');
  const patience = setTimeout(() => void deps.pool.destroy(), config.DRAIN_SECONDS * 1000);
  const closed = new Promise((resolve) => server.close(resolve));
  await deps.pool.drain();
  clearTimeout(patience);
  server.closeIdleConnections();
  await Promise.race([closed, new Promise((resolve) => setTimeout(resolve, 1000).unref())]);
  server.closeAllConnections();
  await deps.pool.destroy();
  deps.log.info('stopped');
};

for (const signal of ['SIGTERM', 'SIGINT']) process.on(signal, () => void stop(signal));
