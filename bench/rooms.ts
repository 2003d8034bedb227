/**
 * Plans every room and prints what came out, beside a plain serpentine.
 *   npm run bench [-- --effort normal --only shower --rooms FILE --max-area 25 --images DIR --write]
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { drawingSvg } from '../service/papers/drawing-svg.js';
import { sheetOf } from '../service/papers/sheet-of.js';
import { toPlanRequest } from '../service/translate/plan-request.js';
import { WARM_UP_ROOMS } from '../service/warm-up-rooms.js';
import { heatOfFingers, looksOf } from '../solver/check/looks.js';
import { createGlpkEngine } from '../solver/engines/glpk.js';
import type { MipEngine } from '../solver/engines/port.js';
import { pointInRing } from '../solver/geometry/measure.js';
import { planLayout } from '../solver/plan.js';
import type { PlanOutcome, PlanRequest, ZonePlan } from '../solver/plan-types.js';
import { plainSerpentine } from './baseline.js';
import { machineLine, markdownTable, percent, processorSeconds, replaceSection } from './results.js';
import { attributionOf, roomsFromFile } from './room-file.js';
import { isEffort, requestOf } from './room-request.js';
import { type BenchRoom, ROOMS } from './room-set.js';
import { HEAD, type Laid, NOTES, summaryLines } from './room-table.js';

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

const effort = isEffort(options.effort) ? options.effort : 'quick';
const GUARD_MS = 120_000;

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

const turnBounds = (turnBound: ZonePlan['turnBound']): string =>
  turnBound
    ? [turnBound.pieces, turnBound.turns, turnBound.atLength]
        .map((n) => (Number.isFinite(n) ? String(n) : '-'))
        .join(' / ')
    : '-';

/** Bounds on the turns of the same layout with the most work behind them; not part of what is timed. */
function sharpTurnBound(request: PlanRequest, engine: MipEngine): ZonePlan['turnBound'] {
  const outcome = planLayout({ ...request, boundEffort: 'thorough' }, { engine, expired: () => false });
  return outcome.kind === 'planned' ? outcome.zones[0].turnBound : null;
}

/** Corners of the path that lie in the buffer. */
const turnsInBuffer = ({ zone, trace }: ZonePlan): number =>
  trace.path.slice(1, -1).filter((p) => pointInRing(p, zone.buffer)).length;

const lanes = ({ model }: ZonePlan): string =>
  model ? `${model.nodes}, ${model.method}${model.proven ? ', proven' : ''}` : 'grown';

function planRoom(room: BenchRoom, engine: MipEngine): { row: string[]; laid: Laid | null } {
  const request = requestOf(room, effort);
  const before = performance.now();
  const used = processorSeconds();
  const outcome = planLayout(request, { engine, expired: () => performance.now() - before > GUARD_MS });
  const seconds = (performance.now() - before) / 1000;
  const processor = processorSeconds() - used;
  const area = room.area.toFixed(1);
  if (outcome.kind === 'impossible') {
    const reasons = [...new Set(outcome.verdicts.map(({ reason }) => reason))].join(', ');
    const blank = HEAD.slice(5).map(() => '');
    const row = [room.name, area, `none: ${reasons}`, seconds.toFixed(2), processor.toFixed(2), ...blank];
    return { row, laid: null };
  }
  if (options.images) {
    mkdirSync(options.images, { recursive: true });
    writeFileSync(`${options.images}/${room.name}.svg`, image(room, request, outcome));
  }
  const [plan] = outcome.zones;
  const turnBound = sharpTurnBound(request, engine);
  const { coverage, length, end } = plan.check;
  const plain = plainSerpentine(room.zone, { ...request, lattice: outcome.lattice });
  const setting = { ...request, lattice: outcome.lattice };
  const looks = looksOf(plan.trace.path, setting);
  const inBuffer = turnsInBuffer(plan);
  const gap = plan.upperBound - coverage.fraction;
  const row = [
    room.name,
    area,
    plan.cable.id,
    seconds.toFixed(2) + (outcome.guardFired ? ' (guard)' : ''),
    processor.toFixed(2),
    percent(coverage.fraction),
    percent(plan.upperBound),
    percent(gap),
    `${length.turns} (${inBuffer})`,
    `${looks.jogs} / ${looks.stairs} / ${looks.fingers}`,
    turnBounds(turnBound),
    lanes(plan),
    end.slack.toFixed(0),
    percent(plain.coverage),
    `${plain.turns}${plain.endsInBuffer ? '' : ' (out)'}`,
  ];
  const laid: Laid = {
    coverage: coverage.fraction,
    gap,
    turns: length.turns,
    inBuffer,
    looks,
    fingers: heatOfFingers(room.zone, setting, plan.trace.path),
    turnBound,
    processor,
  };
  return { row, laid };
}

async function main(): Promise<void> {
  const engine = await createGlpkEngine();
  const all = options.rooms ? roomsFromFile(options.rooms) : ROOMS;
  const rooms = all.filter(
    ({ name, area }) => area <= Number(options['max-area']) && (!options.only || name.includes(options.only)),
  );
  // As the service's threads do before they are asked; one of our own, for what the service does not hand over so.
  for (const request of WARM_UP_ROOMS) planLayout(toPlanRequest(request), { engine, expired: () => false });
  planRoom(ROOMS[0], engine);
  const results = rooms.map((room) => planRoom(room, engine));
  const laid = results.flatMap((result) => result.laid ?? []);
  const table = markdownTable(
    HEAD,
    results.map(({ row }) => row),
  );
  const summary = summaryLines(laid, rooms.length).join('\n');
  console.log(`${table}\n\n${summary}`);
  if (options.write) {
    const source = options.rooms
      ? `\n\n${attributionOf(options.rooms)} Of ${all.length} rooms, those up to ${options['max-area']} m2.`
      : '';
    const title = `${options.rooms ? 'Rooms from a file' : 'Invented rooms'}, effort ${effort}`;
    replaceSection(title, `${machineLine(new Date())}${source}\n\n${NOTES}\n\n${table}\n\n${summary}`);
  }
}

await main();
