/**
 * Methods side by side on the same rooms, in one run and with the same time each.
 *   npm run bench:peers [-- --only shower --seconds 10 --write]
 * Native programs (cbc, glpsol) take part where they are installed.
 */
import { parseArgs } from 'node:util';
import { createGlpkEngine } from '../solver/engines/glpk.js';
import { createHighsEngine } from '../solver/engines/highs.js';
import type { MipEngine } from '../solver/engines/port.js';
import { planLayout } from '../solver/plan.js';
import { plainSerpentine } from './baseline.js';
import { type GridResult, routeByEngine, routeByFrontier } from './grid-methods.js';
import { gridOf, type RoomGrid, routeCoverage } from './lane-grids.js';
import { createNativeEngine } from './peers-engines.js';
import { type GridEntry, verdictOnGrids, verdictOnRooms } from './peers-verdict.js';
import { machineLine, markdownTable, percent, replaceSection } from './results.js';
import { requestOf } from './room-request.js';
import { type BenchRoom, ROOMS } from './room-set.js';

/** Grids of about 100, 200, 500 and 1000 nodes. */
const SUBJECTS = [
  'shower-0.9x0.9-centre-drain',
  'shower-1.2x0.9-wall-drain',
  'shower-neo-angle',
  'cloakroom-1.6x1.1',
  'corridor-4.0x0.9',
  'long-bath-3.4x1.5',
  'bathroom-2.4x1.8',
  'bay-slanted-walls',
];

const { values: options } = parseArgs({
  options: {
    only: { type: 'string' },
    seconds: { type: 'string', default: '10' },
    write: { type: 'boolean', default: false },
  },
});
const budget = Math.max(1, Number(options.seconds) || 10);

const squareCm = (mm2: number): string => (Number.isFinite(mm2) ? (mm2 / 100).toFixed(1) : '-');

function gridRow(method: string, lanes: RoomGrid, result: GridResult): string[] {
  return [
    '',
    method,
    result.nodes === null ? 'no route' : percent(routeCoverage(lanes, result.nodes)),
    result.nodes === null ? '-' : String(result.turns),
    squareCm(result.cost),
    squareCm(result.bound),
    result.proven ? 'yes' : 'no',
    result.seconds.toFixed(2),
  ];
}

/** The planner with all its stages, stopped by the clock at the same time as everybody else. */
function planRow(room: BenchRoom, engine: MipEngine): { row: string[]; coverage: number | null } {
  const began = performance.now();
  const request = requestOf(room, 'thorough');
  const outcome = planLayout(request, { engine, expired: () => performance.now() - began > 1000 * budget });
  const seconds = ((performance.now() - began) / 1000).toFixed(2);
  if (outcome.kind === 'impossible')
    return { row: ['', 'whole planner', 'none', '-', '', '', '', seconds], coverage: null };
  const [{ check, upperBound }] = outcome.zones;
  const { fraction } = check.coverage;
  const isProven = upperBound - fraction < 5e-5;
  return {
    row: [
      '',
      'whole planner',
      percent(fraction),
      String(check.length.turns),
      '',
      `${percent(upperBound)} %`,
      isProven ? 'yes' : 'no',
      seconds,
    ],
    coverage: fraction,
  };
}

/** So that no method pays for the compilation of its code in the first room. */
function warmUp(room: BenchRoom, engines: readonly MipEngine[]): void {
  const lanes = gridOf(room);
  if (lanes === null) return;
  routeByFrontier(lanes.grid.task, lanes.choice.axis, 1);
  for (const engine of engines) routeByEngine(lanes.grid.task, engine, 1);
}

async function main(): Promise<void> {
  const glpk = await createGlpkEngine();
  const natives = (['cbc', 'glpsol'] as const).map(createNativeEngine).filter((engine) => engine !== null);
  const engines = [...natives, await createHighsEngine(), glpk];
  const rows: string[][] = [];
  const entries: GridEntry[] = [];
  const plans: { room: string; plain: number; planned: number | null }[] = [];
  const rooms = SUBJECTS.flatMap((name) => ROOMS.find((room) => room.name === name) ?? []);
  warmUp(rooms[0], engines);
  for (const room of rooms) {
    if (options.only && !room.name.includes(options.only)) continue;
    const lanes = gridOf(room);
    if (lanes === null) continue;
    const plain = plainSerpentine(room.zone, lanes.space.setting);
    const end = plain.endsInBuffer ? '' : ' (end outside)';
    rows.push([
      `**${room.name}**, ${lanes.nodes} nodes`,
      'plain serpentine',
      percent(plain.coverage),
      `${plain.turns}${end}`,
      '',
      '',
      '',
      '',
    ]);
    for (const engine of engines) {
      const result = routeByEngine(lanes.grid.task, engine, budget);
      entries.push({ room: room.name, method: engine.name, ...result });
      rows.push(gridRow(`model, ${engine.name}`, lanes, result));
    }
    const result = routeByFrontier(lanes.grid.task, lanes.choice.axis, budget);
    entries.push({ room: room.name, method: 'frontier', ...result });
    rows.push(gridRow('frontier', lanes, result));
    const planned = planRow(room, glpk);
    rows.push(planned.row);
    plans.push({ room: room.name, plain: plain.coverage, planned: planned.coverage });
    console.error(`${room.name} done`);
  }
  const table = markdownTable(
    ['room', 'method', 'cover %', 'turns', 'cost cm2', 'bound cm2', 'proven', 's'],
    rows,
  );
  const names = engines.map(({ name }) => name).join(', ');
  const text = [
    `Each method had ${budget} s of wall clock a room and started from nothing, after a warm-up; present: ${names}.`,
    'The engines and the frontier search route the same lane grid (cost = floor left cold by nodes not visited, plus',
    '10 cm2 a turn); their coverage is that of the route alone, without the last stretch in the buffer and without regard',
    'to the length of any cable. The plain serpentine minds no cable either. The whole planner chooses cable and lanes,',
    'meets the length, ends in the buffer and is measured as answered; its bound holds for every legal layout.',
  ].join('\n');
  const verdict = [...verdictOnGrids(entries, 'frontier'), ...verdictOnRooms(plans)].join('\n');
  console.log(`${table}\n\n${verdict}`);
  if (options.write)
    replaceSection('Methods side by side', `${machineLine(new Date())}\n\n${text}\n\n${table}\n\n${verdict}`);
}

await main();
