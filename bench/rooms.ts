import { mkdirSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import { drawingSvg } from '../service/papers/drawing-svg.js';
import { sheetOf } from '../service/papers/sheet-of.js';
import { createGlpkEngine } from '../solver/engines/glpk.js';
import { planLayout } from '../solver/plan.js';
import type { PlanOutcome, PlanRequest } from '../solver/plan-types.js';
import { plainSerpentine } from './baseline.js';
import { markdownTable, replaceSection } from './results.js';
import { roomsFromFile } from './room-file.js';
import { type BenchRoom, ROOMS } from './room-set.js';

/** Plans every room and prints what came out, beside a plain serpentine. */
const { values: options } = parseArgs({
  options: {
    rooms: { type: 'string' },
    only: { type: 'string' },
    effort: { type: 'string', default: 'quick' },
    'max-area': { type: 'string', default: '25' },
    images: { type: 'string' },
    write: { type: 'boolean', default: false },
  },
});

const effort = options.effort === 'normal' || options.effort === 'thorough' ? options.effort : 'quick';

const requestOf = (room: BenchRoom): PlanRequest => ({
  lattice: { pitch: 30, origin: null },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
  zones: [room.zone],
  catalogue: room.catalogue,
  insisted: new Map(),
  turnWeight: 600,
  effort,
});

const percent = (share: number): string => (100 * share).toFixed(2);

function image(
  room: BenchRoom,
  request: PlanRequest,
  outcome: Extract<PlanOutcome, { kind: 'planned' }>,
): string {
  return drawingSvg(
    sheetOf(outcome, {
      id: room.name,
      title: room.name,
      display: 'metric',
      spacing: request.spacing,
      placementSlopPerTurn: request.placementSlopPerTurn,
    }),
  );
}

async function main(): Promise<void> {
  const engine = await createGlpkEngine();
  const all = options.rooms ? roomsFromFile(options.rooms) : ROOMS;
  const rooms = all.filter(
    ({ name, area }) => area <= Number(options['max-area']) && (!options.only || name.includes(options.only)),
  );
  const rows: string[][] = [];
  const coverages: number[] = [];
  const gaps: number[] = [];
  for (const room of rooms) {
    const request = requestOf(room);
    const before = performance.now();
    const outcome = planLayout(request, { engine, expired: () => performance.now() - before > 120_000 });
    const seconds = ((performance.now() - before) / 1000).toFixed(2);
    if (outcome.kind === 'impossible') {
      const reasons = [...new Set(outcome.verdicts.map(({ reason }) => reason))].join(', ');
      rows.push([
        room.name,
        room.area.toFixed(1),
        `none: ${reasons}`,
        '',
        '',
        '',
        '',
        '',
        '',
        '',
        seconds,
        '',
        '',
      ]);
      continue;
    }
    const [plan] = outcome.zones;
    const { coverage, length, end } = plan.check;
    const plain = plainSerpentine(room.zone, { ...request, lattice: outcome.lattice });
    coverages.push(coverage.fraction);
    gaps.push(plan.upperBound - coverage.fraction);
    rows.push([
      room.name,
      room.area.toFixed(1),
      plan.cable.id,
      percent(coverage.fraction),
      percent(plan.upperBound),
      percent(plan.upperBound - coverage.fraction),
      String(length.turns),
      plan.turnBound ? `${plan.turnBound.pieces} / ${plan.turnBound.turns} / ${plan.turnBound.route}` : '-',
      plan.model ? `${plan.model.method}${plan.model.proven ? ', proven' : ''}` : 'grown',
      end.slack.toFixed(0),
      seconds + (outcome.guardFired ? ' (guard)' : ''),
      percent(plain.coverage),
      `${plain.turns}${plain.endsInBuffer ? '' : ' (end outside)'}`,
    ]);
    if (options.images) {
      mkdirSync(options.images, { recursive: true });
      writeFileSync(`${options.images}/${room.name}.svg`, image(room, request, outcome));
    }
  }
  const mean = (list: number[]) => list.reduce((a, b) => a + b, 0) / Math.max(1, list.length);
  const table = markdownTable(
    [
      'room',
      'm2',
      'cable',
      'coverage %',
      'bound %',
      'gap',
      'turns',
      'lane turns: pieces / bound / route',
      'lane model',
      'end slack mm',
      'seconds',
      'plain coverage %',
      'plain turns',
    ],
    rows,
  );
  const summary = `mean coverage ${percent(mean(coverages))} %, least ${percent(Math.min(...coverages))} %, mean gap to the bound ${percent(mean(gaps))} points, ${coverages.length} of ${rooms.length} rooms laid`;
  console.log(`${table}\n${summary}`);
  if (options.write) {
    const title = `${options.rooms ? 'Rooms from a file' : 'Invented rooms'}, effort ${effort}`;
    const machine = `${cpus()[0].model}, ${cpus().length} cores, Node ${process.version}, ${new Date().toISOString().slice(0, 10)}`;
    replaceSection(title, `${machine}\n\n${table}\n\n${summary}`);
  }
}

await main();
