/**
 * Load on a service of its own on loopback, warmed up as after a start, at a fixed overall rate, so that waiting counts
 * (no coordinated omission).
 *   npm run bench:http [-- --rate 4 --seconds 10 --same --write]
 * Every request asks for another shower unless --same is given, which measures answers that are kept.
 */
import { createServer } from 'node:http';
import { parseArgs } from 'node:util';
import autocannon from 'autocannon';
import { createApp, createDeps } from '../service/app.js';
import { readConfig } from '../service/config.js';
import { warmUp } from '../service/warm-up.js';
import { machineLine, replaceSection } from './results.js';

const SECONDS_MOST = 60;
const TIMEOUT_SECONDS = 60;
const CONNECTIONS = 8;

const { values } = parseArgs({
  options: {
    rate: { type: 'string', default: '2' },
    seconds: { type: 'string', default: '10' },
    same: { type: 'boolean', default: false },
    write: { type: 'boolean', default: false },
  },
});
const rate = Math.max(1, Number(values.rate) || 1);
const seconds = Math.min(SECONDS_MOST, Math.max(1, Number(values.seconds) || 1));

/** An invented shower; `k` moves its drain, so that each is solved anew. */
const shower = (k: number): string =>
  JSON.stringify({
    lattice: { pitch: 30, origin: [0, 0] },
    spacing: { min: 2, target: 3, max: 3 },
    zones: [
      {
        id: 'shower',
        wet: true,
        outline: [
          [0, 0],
          [900, 0],
          [900, 900],
          [0, 900],
        ],
        clearance: 30,
        exclusions: [{ id: 'drain', center: [450 + k * 0.01, 480], radius: 50, clearanceStuds: 1 }],
        buffer: {
          outline: [
            [0, 0],
            [900, 0],
            [900, 200],
            [0, 200],
          ],
        },
        entry: [60, 840],
      },
    ],
    catalogue: [
      { id: 'S6', length: 6000, power: 72, voltage: 230, minBendRadius: 15 },
      { id: 'S7', length: 7000, power: 84, voltage: 230, minBendRadius: 15 },
    ],
    effort: 'quick',
  });

const deps = createDeps({ ...readConfig(process.env), LOG_LEVEL: 'silent' });
const server = createServer(createApp(deps));
await new Promise<void>((resolve) => {
  server.listen(0, '127.0.0.1', resolve);
});
const address = server.address();
if (address === null || typeof address === 'string') throw new Error('no port');
const url = `http://127.0.0.1:${address.port}`;
const ready = await fetch(`${url}/readyz`);
if (!ready.ok) throw new Error(`not ready: ${await ready.text()}`);
await warmUp(deps.pool);

let k = 0;
// Answers are kept once they are there: the first solve is not part of that measurement.
if (values.same)
  await fetch(`${url}/v1/layouts`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: shower(k),
  });
const result = await autocannon({
  url: `${url}/v1/layouts`,
  connections: CONNECTIONS,
  overallRate: rate,
  duration: seconds,
  timeout: TIMEOUT_SECONDS,
  requests: [
    {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      setupRequest: (request) => {
        if (!values.same) k += 1;
        return { ...request, body: shower(k) };
      },
    },
  ],
});

const { latency } = result;
const what = values.same ? 'kept answers' : 'new showers';
const lines = [
  `- ${what}, ${deps.pool.workers} solver threads, ${rate} requests/s for ${seconds} s: ${result.requests.total} answered`,
  `- latency ms: p50 ${latency.p50}, p97.5 ${latency.p97_5}, p99 ${latency.p99}, largest ${latency.max}`,
  `- 2xx ${result['2xx']}, 4xx ${result['4xx']}, 5xx ${result['5xx']}, errors ${result.errors}, timeouts ${result.timeouts}`,
];
const machine = machineLine(new Date());
console.log([machine, ...lines].join('\n'));
if (values.write)
  replaceSection(`Load over HTTP, ${what}, ${rate} a second`, `${machine}\n\n${lines.join('\n')}`);

server.closeAllConnections();
server.close();
await Promise.all([deps.pool.destroy(), deps.press.destroy()]);
