import { parseArgs } from 'node:util';
import { createGlpkEngine } from '../solver/engines/glpk.js';
import type { FitsRequest } from '../solver/fits.js';
import { planFits } from '../solver/fits.js';
import { planLayout } from '../solver/plan.js';
import type { PlanRequest, PlanTools } from '../solver/plan-types.js';
import { machineLine, markdownTable, processorSeconds, replaceSection } from './results.js';
import { type BenchRoom, catalogue, ROOMS } from './room-set.js';

/**
 * What ranking a catalogue of 20 costs beside one layout from the same catalogue, and beside one layout of a cable
 * that the request insists on (the search for a single cable). Processor time, the least of some runs, which take turns.
 */
const { values: options } = parseArgs({
  options: {
    only: { type: 'string' },
    effort: { type: 'string', default: 'quick' },
    runs: { type: 'string', default: '5' },
    write: { type: 'boolean', default: false },
  },
});

const effort = options.effort === 'normal' || options.effort === 'thorough' ? options.effort : 'quick';

/** 20 lengths about the one that covers the room's floor at 90 mm. */
const twenty = ({ area }: BenchRoom) => {
  const step = 1.12;
  const middle = (area * 0.85) / 0.09;
  return catalogue(middle / step ** 9.5, middle * step ** 9.6, step).slice(0, 20);
};

const requestOf = (room: BenchRoom): FitsRequest => ({
  lattice: { pitch: 30, origin: null },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
  zones: [room.zone],
  catalogue: twenty(room),
  insisted: new Map(),
  turnWeight: 600,
  effort,
  maxLoad: null,
});

/** Milliseconds of processor time for each of some kinds of work; they take turns, so that all meet the same machine. */
function costs(works: readonly (() => unknown)[]): number[] {
  const least = works.map(() => Infinity);
  for (let run = 0; run < Number(options.runs); run++)
    for (const [k, work] of works.entries()) {
      const before = processorSeconds();
      work();
      least[k] = Math.min(least[k] ?? Infinity, 1000 * (processorSeconds() - before));
    }
  return least;
}

async function main(): Promise<void> {
  const tools: PlanTools = { engine: await createGlpkEngine(), expired: () => false };
  const rows: string[][] = [];
  const sums = { fits: 0, layout: 0, single: 0 };
  for (const room of ROOMS.filter(({ name }) => !options.only || name.includes(options.only))) {
    const request = requestOf(room);
    const ranked = planFits(request, tools);
    const [best] = ranked.zones[0]?.cables ?? [];
    const insisting: PlanRequest = {
      ...request,
      insisted: new Map(best?.fits ? [[room.zone.id, best.cable]] : []),
    };
    const laid = planLayout(request, tools);
    const [fits = 0, layout = 0, single = 0] = costs([
      () => planFits(request, tools),
      () => planLayout(request, tools),
      () => planLayout(insisting, tools),
    ]);
    sums.fits += fits;
    sums.layout += layout;
    sums.single += single;
    const fitting = ranked.zones[0]?.cables.filter((c) => c.fits).length ?? 0;
    rows.push([
      room.name,
      `${fitting} of ${request.catalogue.length}`,
      fits.toFixed(0),
      layout.toFixed(0),
      single.toFixed(0),
      (fits / layout).toFixed(2),
      laid.kind === 'planned' ? (ranked.work / laid.work).toFixed(2) : '-',
      (fits / single).toFixed(2),
    ]);
  }
  const table = markdownTable(
    [
      'room',
      'fit',
      'ranking ms',
      'layout ms',
      'layout of one cable ms',
      'ranking / layout',
      'in counted work',
      'ranking / one cable',
    ],
    rows,
  );
  const summary = `in all: ranking / layout ${(sums.fits / sums.layout).toFixed(2)}, ranking / layout of one cable ${(sums.fits / sums.single).toFixed(2)}`;
  console.log(`${table}\n${summary}`);
  if (options.write) {
    const how = `${machineLine(new Date())}; processor time, least of ${options.runs} runs taking turns`;
    replaceSection(`Ranking 20 cables, effort ${effort}`, `${how}\n\n${table}\n\n${summary}`);
  }
}

await main();
