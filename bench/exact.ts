/**
 * Both exact stages on narrow zones: processor seconds until the route over the lanes is proven optimal.
 *   npm run bench:exact [-- --count 24 --seconds 30 --write]
 */
import { parseArgs } from 'node:util';
import { createGlpkEngine } from '../solver/engines/glpk.js';
import { solveFrontier } from '../solver/search/frontier.js';
import { routeByEngine } from './grid-methods.js';
import { gridOf } from './lane-grids.js';
import { narrowRooms } from './narrow-rooms.js';
import { machineLine, markdownTable, mean, processorSeconds, replaceSection } from './results.js';
import { ROOMS } from './room-set.js';

/** Lanes across: wider grids are not narrow zones. */
const WIDEST = 12;
/** Zones up to this wide are meant to be proven within a second. */
const SWIFT = 11;
/** States a step of the frontier search; a zone of that width stays far below. */
const MOST_STATES = 1_000_000;

const { values: options } = parseArgs({
  options: {
    count: { type: 'string', default: '24' },
    seconds: { type: 'string', default: '30' },
    write: { type: 'boolean', default: false },
  },
});
const budget = Math.max(1, Number(options.seconds) || 30);

interface Stage {
  readonly seconds: number[];
  proven: number;
}

const summary = (name: string, { seconds, proven }: Stage): string =>
  `${name}: ${proven} of ${seconds.length} proven, processor time mean ${mean(seconds).toFixed(2)} s, longest ${Math.max(...seconds).toFixed(2)} s, ${seconds.filter((s) => s < 1).length} under 1 s`;

async function main(): Promise<void> {
  const engine = await createGlpkEngine();
  const rows: string[][] = [];
  const frontier: Stage = { seconds: [], proven: 0 };
  const mip: Stage = { seconds: [], proven: 0 };
  const swift: Stage = { seconds: [], proven: 0 };
  let different = 0;
  for (const room of [...ROOMS, ...narrowRooms(Math.max(0, Number(options.count) || 0))]) {
    const lanes = gridOf(room);
    if (lanes === null || lanes.width > WIDEST) continue;
    const { task } = lanes.grid;
    const before = processorSeconds();
    const swept = solveFrontier(task, { maxStates: MOST_STATES });
    const between = processorSeconds();
    const solved = routeByEngine(task, engine, budget);
    const seconds = between - before;
    const solvedSeconds = processorSeconds() - between;
    const sweptCost = swept.kind === 'route' ? swept.cost : Number.POSITIVE_INFINITY;
    const isProven = swept.kind === 'route' && swept.proven;
    frontier.seconds.push(seconds);
    mip.seconds.push(solvedSeconds);
    if (isProven) frontier.proven += 1;
    if (lanes.width <= SWIFT) {
      swift.seconds.push(seconds);
      if (isProven) swift.proven += 1;
    }
    if (solved.proven) mip.proven += 1;
    if (isProven && solved.proven && Math.abs(sweptCost - solved.cost) > 1e-3) different += 1;
    rows.push([
      room.name,
      `${task.nx} x ${task.ny}`,
      String(lanes.nodes),
      (sweptCost / 100).toFixed(1),
      `${seconds.toFixed(2)}${isProven ? '' : ' (not proven)'}`,
      `${solvedSeconds.toFixed(2)}${solved.proven ? '' : ' (not proven)'}`,
    ]);
    console.error(rows[rows.length - 1].join(' | '));
  }
  const table = markdownTable(
    ['zone', 'lanes', 'nodes', 'cost cm2', 'frontier cpu s', 'glpk.js cpu s'],
    rows,
  );
  const text = [
    summary('Frontier, all', frontier),
    summary(`Frontier, zones up to ${SWIFT} lanes`, swift),
    summary(`glpk.js with its cut loop, ${budget} s of clock allowed`, mip),
    `Optima that differ between the two: ${different}.`,
  ].join('\n\n');
  console.log(`${table}\n\n${text}`);
  if (options.write)
    replaceSection(
      `Narrow zones to the proven optimum, up to ${WIDEST} lanes wide`,
      `${machineLine(new Date())}\n\n${table}\n\n${text}`,
    );
}

await main();
