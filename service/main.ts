import { createServer } from 'node:http';
import { createApp, createDeps } from './app.js';
import { readConfig } from './config.js';
import { warmUp } from './warm-up.js';

const HEADERS_TIMEOUT_MS = 15_000;
const REQUEST_TIMEOUT_MS = 60_000;
/** For answers still being written when everything else is done. */
const LAST_WORDS_MS = 1000;

const config = readConfig(process.env);
const deps = createDeps(config);
const server = createServer(
  { headersTimeout: HEADERS_TIMEOUT_MS, requestTimeout: REQUEST_TIMEOUT_MS },
  createApp(deps),
);

const destroyPools = (): Promise<unknown> => Promise.all([deps.pool.destroy(), deps.press.destroy()]);

server.listen(config.PORT, () => {
  const address = server.address();
  deps.log.info({ port: typeof address === 'object' ? address?.port : config.PORT }, 'listening');
  // The probe shows early when planning does not work.
  void warmUp(deps.pool)
    .then(() => deps.readiness.state())
    .then((state) => deps.log.info({ state }, 'warmed up'));
});

server.on('error', (error) => {
  deps.log.fatal({ err: error }, 'cannot listen');
  process.exitCode = 1;
  void destroyPools();
});

let stopping = false;

/** Takes nothing new (readiness says so), lets work under way end, then leaves. */
const stop = async (signal: string): Promise<void> => {
  if (stopping) return;
  stopping = true;
  deps.log.info({ signal }, 'draining');
  const patience = setTimeout(() => void destroyPools(), config.DRAIN_SECONDS * 1000);
  await Promise.all([deps.pool.drain(), deps.press.drain()]);
  clearTimeout(patience);
  const closed = new Promise((resolve) => server.close(resolve));
  server.closeIdleConnections();
  const lastWords = setTimeout(() => server.closeAllConnections(), LAST_WORDS_MS);
  await closed;
  clearTimeout(lastWords);
  await destroyPools();
  deps.log.info('stopped');
};

for (const signal of ['SIGTERM', 'SIGINT']) process.on(signal, () => void stop(signal));
