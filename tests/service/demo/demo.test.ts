import { spawn } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LayoutRequest, layoutRequestSchema } from '../../../service/schemas/layout-request.js';
import { type LayoutResponse, layoutResponseSchema } from '../../../service/schemas/layout-response.js';
import { toJobInput, toJobZones } from '../../../service/translate/job.js';
import { toPlanRequest } from '../../../service/translate/plan-request.js';
import { checkTrace } from '../../../solver/check/check-trace.js';
import { checkCrossing } from '../../../solver/job/check-crossing.js';
import { checkSensor } from '../../../solver/job/check-sensor.js';
import { type JobInput, type PreparedJob, prepareJob, sensorTaskOf } from '../../../solver/job/prepare.js';
import type { SensorPlace } from '../../../solver/job/sensor.js';
import type { Point, Ring, Setting, Trace } from '../../../solver/problem.js';
import { startService } from '../../helpers/service.js';

const source = (path: string): string => fileURLToPath(new URL(`../../../${path}`, import.meta.url));

interface Ended {
  readonly code: number | null;
  readonly text: string;
}

const runDemo = (cwd: string, file: string): Promise<Ended> =>
  new Promise((resolve) => {
    const child = spawn(
      process.execPath,
      ['--import', import.meta.resolve('tsx'), source('service/demo/demo.ts'), file],
      { cwd, env: { PATH: process.env.PATH } },
    );
    let text = '';
    const collect = (chunk: Buffer): void => {
      text += chunk.toString();
    };
    child.stdout.on('data', collect);
    child.stderr.on('data', collect);
    child.on('exit', (code) => resolve({ code, text }));
  });

let folder = '';
let ended: Ended;
let body: string;
let request: LayoutRequest;
let layout: LayoutResponse;
let input: JobInput;
let prepared: PreparedJob;
let setting: Setting;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'oxturn-demo-'));
  // The demo room, with less work than people get to see.
  body = (await readFile(source('service/demo/bathroom.json'), 'utf8')).replace('"normal"', '"quick"');
  const file = join(folder, 'bathroom.json');
  await writeFile(file, body);
  ended = await runDemo(folder, file);
  expect(ended.code, ended.text).toBe(0);
  request = layoutRequestSchema.parse(JSON.parse(body));
  layout = layoutResponseSchema.parse(
    JSON.parse(await readFile(join(folder, 'out/bathroom-layout.json'), 'utf8')),
  );
  const plan = toPlanRequest(request);
  setting = { ...plan, lattice: layout.lattice };
  input = toJobInput(request, plan, toJobZones(request, plan), setting);
  const outcome = prepareJob(input);
  if (outcome.kind !== 'prepared') throw new Error('the demo room cannot be prepared');
  prepared = outcome;
}, 120_000);

afterAll(async () => {
  await rm(folder, { recursive: true, force: true });
});

const answerOf = (id: string): LayoutResponse['zones'][number] => {
  const zone = layout.zones.find((other) => other.id === id);
  if (zone === undefined) throw new Error(`no zone ${id}`);
  return zone;
};

const traceOf = (id: string): Trace => ({ path: answerOf(id).path, reserve: answerOf(id).reserve });

const preparedZone = (id: string) => {
  const zone = prepared.zones.find((other) => other.id === id);
  if (zone === undefined) throw new Error(`no zone ${id}`);
  return zone;
};

const cableOf = (id: string) => {
  const cable = input.catalogue.find((other) => other.id === answerOf(id).cable);
  if (cable === undefined) throw new Error(`no cable in ${id}`);
  return cable;
};

/** Times a polyline passes from one side of the line x = `x` to the other. */
const passes = (line: Ring, x: number): number =>
  line.slice(1).filter(([u], k) => (line[k]?.[0] ?? u) < x !== u < x).length;

describe('the demo', () => {
  it('lays two legal cables', () => {
    expect(layout.zones.map(({ id }) => id)).toEqual(['floor', 'shower']);
    for (const id of ['floor', 'shower']) {
      const report = checkTrace(preparedZone(id), setting, cableOf(id), traceOf(id));
      expect(report.rules.filter(({ ok }) => !ok)).toEqual([]);
      expect(report.length.path).toBeCloseTo(cableOf(id).length, 0);
      expect(report.coverage.fraction).toBeCloseTo(answerOf(id).coverage.fraction, 5);
      expect(report.coverage.fraction).toBeGreaterThan(0.97);
      expect(report.coverage.fraction).toBeLessThanOrEqual(answerOf(id).coverage.upperBound);
    }
  });

  it('crosses the curb once, over its top, and nowhere else', () => {
    const [found] = prepared.crossings;
    if (found === undefined) throw new Error('no crossing');
    expect(answerOf('shower').crossing?.lead).toEqual(found.crossing.lead);
    const traces = { dry: traceOf('floor'), wet: traceOf('shower') };
    expect(checkCrossing(found.task, found.crossing, traces)).toEqual([]);
    // The curb of the demo room reaches from x = 2400 to x = 2500.
    expect(passes([...found.crossing.lead, ...traces.wet.path, ...traces.wet.reserve], 2450)).toBe(1);
    expect(passes([...traces.dry.path, ...traces.dry.reserve], 2450)).toBe(0);
  });

  it('places the sensor, and a spare or says why not', () => {
    const { sensor } = answerOf('floor');
    const task = sensorTaskOf(input, prepared, preparedZone('floor'), traceOf('floor'), true);
    if (task === null) throw new Error('no task');
    expect(sensor?.placed).toBe(true);
    expect(sensor?.spare === null).toBe(sensor?.detail !== null);
    for (const place of [sensor?.sensor, sensor?.spare]) {
      if (!place) continue;
      const whole: SensorPlace = {
        ...place,
        leaves: place.lead[0] ?? place.at,
        corners: Math.max(0, place.lead.length - 2),
      };
      expect(checkSensor(task, whole, [preparedZone('shower').outline])).toEqual([]);
    }
  });

  it('numbers runs alike in the laying order and on the papers, and points at the straight pieces', async () => {
    const rows = (await readFile(join(folder, 'out/bathroom-runs.csv'), 'utf8'))
      .trim()
      .split('\r\n')
      .slice(1)
      .map((row) => row.split(','));
    const same = (a: Point | undefined, b: Point | undefined): void => {
      expect(a?.[0]).toBeCloseTo(b?.[0] ?? Number.NaN, 3);
      expect(a?.[1]).toBeCloseTo(b?.[1] ?? Number.NaN, 3);
    };
    for (const { id, runs, laying, path } of layout.zones) {
      const order = laying?.runs ?? [];
      expect(rows.filter(([zone]) => zone === id).map((row) => Number(row[1]))).toEqual(
        order.map(({ n }) => n),
      );
      const pieces = order.flatMap((run) => (run.pieces[0] === run.pieces[1] ? [run.pieces[0]] : run.pieces));
      const forward = laying?.order === 'from-joint';
      expect(pieces).toEqual(runs.map((_, k) => (forward ? k + 1 : runs.length - k)));
      for (const run of order) {
        const piece = runs[run.pieces[0] - 1];
        same(forward ? piece?.from : piece?.to, run.from);
        same(forward ? piece?.to : piece?.from, run.to);
      }
      const sharp = runs.reduce((sum, { length }) => sum + length, 0);
      const walked = path.slice(1).reduce((sum, p, k) => {
        const q = path[k] ?? p;
        return sum + Math.hypot(p[0] - q[0], p[1] - q[1]);
      }, 0);
      expect(sharp).toBeCloseTo(walked, 2);
      // A corner of radius 15 mm saves (2 - pi/2) r = 6.438 mm (derived).
      const saved = (2 - Math.PI / 2) * 15 * (runs.length - 1);
      const { leadIn, cable } = answerOf(id).length;
      expect(Math.abs(sharp - saved + leadIn - cable)).toBeLessThan(1);
    }
  });

  it('says what the meter and the marks should read', () => {
    for (const { id, readings, laying } of layout.zones) {
      const cable = cableOf(id);
      // R = V^2 / P; band -5/+10 % (IEC 60800, from memory).
      const nominal = 240 ** 2 / cable.power;
      expect(readings?.conductor.nominal).toBeCloseTo(nominal, 4);
      expect(readings?.conductor.low).toBeCloseTo(0.95 * nominal, 4);
      expect(readings?.conductor.high).toBeCloseTo(1.1 * nominal, 4);
      // BS 7671 Table 64; IEEE 515 (from memory).
      expect(readings?.insulation).toEqual({ legal: 1, expected: 20, testVoltage: 500 });
      const marks = request.zones.find((zone) => zone.id === id)?.marks;
      const sign = marks?.direction === 'up' ? 1 : -1;
      expect(laying?.endMark).toBeCloseTo((marks?.start ?? 0) + (sign * cable.length) / 1000, 6);
    }
  });

  it('reckons the circuit: 125 % of the load, a standard device, ground-fault protection', () => {
    const [circuit] = layout.electrical?.circuits ?? [];
    const load = cableOf('floor').power + cableOf('shower').power;
    expect(circuit?.current.value).toBeCloseTo(load / 240, 5);
    // NFPA 70 (NEC) 424.4(B), 210.20 (from memory); NEC 240.6(A): 15 A is the smallest standard rating.
    expect(circuit?.required.value).toBeCloseTo((1.25 * load) / 240, 5);
    expect(circuit?.device?.value).toBe(15);
    expect(circuit?.groundFaultTrip.value).toBe(0.005);
    expect(layout.electrical?.status).not.toBe('refuse');
  });

  it('reckons materials from the outlines', () => {
    const { materials } = layout;
    // 2.4 x 2.1 + 0.9 x 1.2 m2 (derived).
    expect(materials?.membrane.area.value).toBeCloseTo(6.12, 6);
    expect(materials?.sealing.map(({ zone }) => zone)).toEqual(['shower']);
    // 100 up, 100 across, 120 down.
    expect(materials?.grooves.map(({ length }) => length.value)).toEqual([320]);
    expect(materials?.sensors.inUse.value).toBe(1);
  });

  it('prints a summary with every cable to order and every file written', async () => {
    for (const { cable } of layout.zones) expect(ended.text).toContain(`order cable       ${cable}:`);
    expect(ended.text).toContain('meter reads');
    expect(ended.text).toContain('Licensed electrician');
    const files = await readdir(join(folder, 'out'));
    expect(files.sort()).toEqual(
      ['drawing.dxf', 'drawing.svg', 'layout.json', 'runs.csv', 'sheet.pdf'].map(
        (name) => `bathroom-${name}`,
      ),
    );
    for (const file of files) expect(ended.text).toContain(`out/${file}`);
  });
});

describe('the same request sent to another process', () => {
  it('gives the same bytes apart from timings, and the same papers', async () => {
    const service = await startService();
    try {
      const response = await service.post('/v1/layouts', body);
      expect(response.status).toBe(200);
      const { timings: _own, ...again } = (await response.json()) as LayoutResponse;
      const { timings: _other, ...before } = JSON.parse(
        await readFile(join(folder, 'out/bathroom-layout.json'), 'utf8'),
      ) as LayoutResponse;
      expect([before.guardFired, again.guardFired]).toEqual([false, false]);
      expect(JSON.stringify(again) === JSON.stringify(before)).toBe(true);
      for (const [paper, type] of [
        ['drawing.svg', 'image/svg+xml'],
        ['drawing.dxf', 'image/vnd.dxf'],
        ['runs.csv', 'text/csv'],
        ['sheet.pdf', 'application/pdf'],
      ] as const) {
        const printed = await fetch(`${service.url}/v1/layouts/${layout.id}/${paper}`);
        expect(printed.status).toBe(200);
        expect(printed.headers.get('content-type')).toContain(type);
        const bytes = Buffer.from(await printed.arrayBuffer());
        expect(bytes.equals(await readFile(join(folder, `out/bathroom-${paper}`)))).toBe(true);
      }
      const imperial = await fetch(`${service.url}/v1/layouts/${layout.id}/runs.csv?display=imperial`);
      expect((await imperial.text()).split('\r\n')[0]).toContain('length_ft_in');
    } finally {
      await service.close();
    }
  }, 60_000);
});

describe('a demo that cannot be shown', () => {
  it('ends with a message and not with 0', async () => {
    const file = join(folder, 'wrong.json');
    await writeFile(file, '{ "zones": [] }');
    const { code, text } = await runDemo(folder, file);
    expect(code).toBe(1);
    expect(text).toContain('The demo failed: POST');
    expect(text).toContain('answered 422');
  }, 60_000);
});
