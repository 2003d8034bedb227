import { cornerRadius, type Point, type Ring, type Shape } from '../../solver/problem.js';
import { boxOf, clipSegment, hatchLines, insideRing, rasterRows, shapeRing } from './clip.js';
import { type LabelField, labelBox, labelField, labelMarks } from './labels.js';
import { circleData, flip, lineData, type Mark, piecesData, roundedPieces, textWidth } from './marks.js';
import { jointAtEntry, type PlanSheet, type SheetZone } from './model.js';
import { BUFFER_DOT_COLOR, COLD_FILL, PENS, type Pen, pen, STUD_COLOR, TARGET_FILL } from './pens.js';
import {
  arrowHead,
  checkpointSymbol,
  datumSymbol,
  endSymbol,
  endTick,
  entrySymbol,
  jointSymbol,
  sensorSymbol,
  thermostatSymbol,
} from './symbols.js';

export interface SceneOptions {
  /** mm of the room per mm of paper. */
  readonly scale: number;
  readonly studs: boolean;
}

/** A no-heat area whose name did not fit inside it. */
export interface KeyEntry {
  readonly key: string;
  readonly name: string;
}

export interface PlanScene {
  readonly marks: readonly Mark[];
  readonly keys: readonly KeyEntry[];
}

const line = (part: string, d: string, kind: Pen, scale: number, fill?: string): Mark => ({
  kind: 'path',
  part,
  d,
  stroke: pen(kind, scale),
  ...(fill === undefined ? {} : { fill }),
});

const ringData = (ring: Ring): string => lineData(ring.map(flip), true);

const segmentsData = (segments: readonly (readonly [Point, Point])[]): string =>
  segments.map(([a, b]) => lineData([flip(a), flip(b)])).join('');

const shapeData = (shape: Shape): string =>
  shape.kind === 'circle' ? circleData(flip(shape.center), shape.radius) : ringData(shape.outline);

/** Dots on a square raster: rows drawn as lines of nothing but round ends. */
const dots = (
  part: string,
  ring: Ring,
  step: number,
  origin: Point,
  diameter: number,
  color: string,
): Mark[] => {
  const d = rasterRows(ring, step, origin)
    .map(([a, b]) => lineData([flip(a), flip([b[0] + 0.02, b[1]])]))
    .join('');
  return d === ''
    ? []
    : [
        {
          kind: 'path',
          part,
          d,
          stroke: { width: diameter, color, dash: [0.01, step - 0.01], cap: 'round' },
        },
      ];
};

/** Boundary of a shape as far as it lies within the walls. */
const clippedBoundary = (shape: Shape, outline: Ring): string => {
  const ring = shapeRing(shape);
  if (ring.every((p) => insideRing(outline, p))) return shapeData(shape);
  return segmentsData(
    ring.flatMap((a, i) => {
      const b = ring[(i + 1) % ring.length];
      return b === undefined ? [] : clipSegment(a, b, [outline]);
    }),
  );
};

/** Point where a name is written: the middle of the longest chord of the area near its centre. */
const namePlace = (ring: Ring, outline: Ring): { at: Point; room: number } => {
  const box = boxOf(ring);
  let best = { at: [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2] as Point, room: 0 };
  for (const share of [0.5, 0.4, 0.6, 0.3, 0.7]) {
    const y = box.minY + (box.maxY - box.minY) * share;
    for (const [a, b] of clipSegment([box.minX - 1, y], [box.maxX + 1, y], [ring, outline])) {
      const room = Math.abs(b[0] - a[0]);
      if (room > best.room * 1.05) best = { at: [(a[0] + b[0]) / 2, y], room };
    }
  }
  return best;
};

const direction = (from: Point, to: Point): Point => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return length === 0 ? [1, 0] : [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
};

/** Unit direction, in sheet coordinates, of a polyline at the point nearest to `at`. */
const directionAt = (points: Ring, at: Point): Point => {
  let best: Point = [1, 0];
  let nearest = Infinity;
  for (let i = 0; i + 1 < points.length; i++) {
    const a = points[i];
    const b = points[i + 1];
    if (a === undefined || b === undefined) continue;
    const d2 = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
    if (d2 === 0) continue;
    const t = Math.max(
      0,
      Math.min(1, ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / d2),
    );
    const gap = Math.hypot(a[0] + t * (b[0] - a[0]) - at[0], a[1] + t * (b[1] - a[1]) - at[1]);
    if (gap <= nearest) {
      nearest = gap;
      best = direction(a, b);
    }
  }
  return [best[0], -best[1]];
};

/** Floor, no-heat areas, buffer, cold patches: what lies under the cable. */
const groundMarks = (zone: SheetZone, sheet: PlanSheet, { scale, studs }: SceneOptions): Mark[] => {
  const marks: Mark[] = [];
  if (zone.target !== undefined)
    marks.push({ kind: 'path', part: 'target', d: zone.target.map(ringData).join(''), fill: TARGET_FILL });
  // Closer than this the dots run into a grey.
  if (studs && sheet.lattice.pitch >= 0.9 * scale) {
    const { pitch, origin } = sheet.lattice;
    const stud: Point = [origin[0] + pitch / 2, origin[1] + pitch / 2];
    marks.push(...dots('stud', zone.outline, pitch, stud, 0.16 * scale, STUD_COLOR));
  }
  const cold = zone.coverage.cold.filter((ring) => ring.length > 2);
  if (cold.length > 0) marks.push(line('cold', cold.map(ringData).join(''), PENS.cold, scale, COLD_FILL));
  if (zone.buffer.length > 2) {
    marks.push(...dots('buffer-dots', zone.buffer, 2 * scale, [0, 0], 0.3 * scale, BUFFER_DOT_COLOR));
    marks.push(line('buffer', ringData(zone.buffer), PENS.buffer, scale));
  }
  for (const exclusion of zone.exclusions) {
    const ring = shapeRing(exclusion.shape);
    if (ring.length < 3) continue;
    const hatch = segmentsData(hatchLines([ring, zone.outline], 1.6 * scale));
    if (hatch !== '') marks.push(line('no-heat-hatch', hatch, PENS.hatch, scale));
    const edge = clippedBoundary(exclusion.shape, zone.outline);
    if (edge !== '') marks.push(line('no-heat', edge, PENS.noHeat, scale));
  }
  if (zone.drain !== undefined) {
    const ring = shapeRing(zone.drain);
    const box = boxOf(ring);
    const cross = [
      ...clipSegment([box.minX, box.minY], [box.maxX, box.maxY], [ring]),
      ...clipSegment([box.minX, box.maxY], [box.maxX, box.minY], [ring]),
    ];
    marks.push(line('drain', shapeData(zone.drain), PENS.noHeat, scale, '#ffffff'));
    marks.push(line('drain', segmentsData(cross), PENS.symbol, scale));
  }
  if (zone.curb !== undefined) {
    marks.push(line('curb', ringData(zone.curb.outline), PENS.noHeat, scale, '#ebebeb'));
  }
  return marks;
};

/** The cable itself, with its reserve, crossing, cold lead and end symbols. */
const cableMarks = (zone: SheetZone, sheet: PlanSheet, scale: number): Mark[] => {
  const radius = cornerRadius(sheet.lattice);
  const rounded = (points: Ring): string => piecesData(roundedPieces(points, radius));
  const marks: Mark[] = [];
  if (zone.coldLead !== undefined && zone.coldLead.length > 1)
    marks.push(line('cold-lead', rounded(zone.coldLead), PENS.coldLead, scale));
  if (zone.crossing !== undefined && zone.crossing.length > 1)
    marks.push(line('crossing', rounded(zone.crossing), PENS.cable, scale));
  marks.push(line('heating-cable', rounded(zone.path), PENS.cable, scale));
  if (zone.reserve.length > 1) marks.push(line('reserve', rounded(zone.reserve), PENS.reserve, scale));
  const whole = [...zone.path, ...zone.reserve.slice(1)];
  for (const at of [zone.end.earliest, zone.end.latest])
    marks.push(endTick(flip(at), directionAt(whole, at), scale));
  marks.push(...endSymbol(flip(zone.end.at), directionAt(zone.path, zone.end.at), scale));
  if (!jointAtEntry(zone)) marks.push(...entrySymbol(flip(zone.path[0] ?? zone.entry), scale));
  if (zone.joint !== undefined) marks.push(...jointSymbol(flip(zone.joint), scale));
  return marks;
};

/** Run numbers and direction arrows, as many as have room. */
const runMarks = (zone: SheetZone, sheet: PlanSheet, scale: number, field: LabelField): Mark[] => {
  const lane = sheet.spacing.target * sheet.lattice.pitch;
  const size = Math.min(2.2 * scale, Math.max(1.8 * scale, lane * 0.7));
  const long = zone.runs.filter((run) => run.length > 7 * scale);
  const rank = (n: number): number => (n === long[0]?.n || n === long.at(-1)?.n ? 0 : n % 5 === 0 ? 1 : 2);
  const marks: Mark[] = [];
  const stops = zone.checkpoints ?? [];
  for (const stop of stops) {
    const at = flip(stop.at);
    field.reserve({
      minX: at[0] - 1.4 * scale,
      maxX: at[0] + 1.4 * scale,
      minY: at[1] - 1.4 * scale,
      maxY: at[1] + 1.4 * scale,
    });
    marks.push(checkpointSymbol(at, scale));
  }
  for (const run of [...long].sort((a, b) => rank(a.n) - rank(b.n) || a.n - b.n)) {
    const [ux, uy] = direction(run.from, run.to);
    for (const share of [0, 4, 8, 12]) {
      const along = (4.5 + share) * scale;
      if (along > run.length - 3 * scale) break;
      const at = flip([run.from[0] + ux * along, run.from[1] + uy * along]);
      if (!field.claim(labelBox(at, String(run.n), size, 0.25 * scale))) continue;
      marks.push(...labelMarks('run-number', at, String(run.n), size, 0.25 * scale));
      break;
    }
  }
  long.forEach((run, i) => {
    if (i % 3 !== 0) return;
    const [ux, uy] = direction(run.from, run.to);
    const size = Math.min(2.4 * scale, lane * 0.9);
    const half = size / 2;
    for (const share of [0.62, 0.5, 0.4, 0.75]) {
      const at = flip([
        run.from[0] + (run.to[0] - run.from[0]) * share,
        run.from[1] + (run.to[1] - run.from[1]) * share,
      ]);
      if (!field.claim({ minX: at[0] - half, maxX: at[0] + half, minY: at[1] - half, maxY: at[1] + half }))
        continue;
      marks.push(arrowHead(at, [ux, -uy], size, PENS.cable.color));
      break;
    }
  });
  return marks;
};

/** Names of no-heat areas, written in them where they fit and keyed by a letter where they do not. */
const nameMarks = (
  sheet: PlanSheet,
  scale: number,
  field: LabelField,
): { marks: Mark[]; keys: KeyEntry[] } => {
  const marks: Mark[] = [];
  const keys: KeyEntry[] = [];
  const size = 2.6 * scale;
  const pad = 0.5 * scale;
  for (const zone of sheet.zones) {
    for (const exclusion of zone.exclusions) {
      const ring = shapeRing(exclusion.shape);
      if (ring.length < 3) continue;
      const drain = zone.drain === undefined ? undefined : boxOf(shapeRing(zone.drain));
      if (drain && insideRing(ring, [(drain.minX + drain.maxX) / 2, (drain.minY + drain.maxY) / 2])) continue;
      const place = namePlace(ring, zone.outline);
      const fits = textWidth(exclusion.id, size) + 3 * pad < place.room;
      const key =
        String.fromCharCode(65 + (keys.length % 26)) +
        (keys.length >= 26 ? String(Math.floor(keys.length / 26)) : '');
      const text = fits ? exclusion.id : key;
      if (!fits) keys.push({ key, name: exclusion.id });
      // A key wider than its area stands beside it, or it would hide what it names.
      const beside = !fits && textWidth(key, size) + pad > place.room;
      const box = boxOf(ring);
      const at = flip(beside ? [box.maxX + size * 0.7, box.maxY + size * 0.7] : place.at);
      field.reserve(labelBox(at, text, size, pad));
      marks.push(...labelMarks('name', at, text, size, pad, { bold: !fits }));
    }
  }
  return { marks, keys };
};

/** The plan without dimensions and title block, in sheet coordinates. */
export const planScene = (sheet: PlanSheet, options: SceneOptions): PlanScene => {
  const { scale } = options;
  const field = labelField();
  const ground = sheet.zones.flatMap((zone) => groundMarks(zone, sheet, options));
  const walls = sheet.zones.map((zone) => line('wall', ringData(zone.outline), PENS.wall, scale));
  const cables = sheet.zones.flatMap((zone) => cableMarks(zone, sheet, scale));
  const sensors = (sheet.sensors ?? []).flatMap((sensor): Mark[] => [
    ...(sensor.lead.length > 1
      ? [line('sensor-lead', lineData(sensor.lead.map(flip)), PENS.sensor, scale)]
      : []),
    ...sensorSymbol(flip(sensor.at), sensor.spare, scale),
  ]);
  for (const p of [
    ...(sheet.sensors ?? []).map((s) => s.at),
    ...sheet.zones.map((z) => z.path[0] ?? z.entry),
    ...sheet.zones.map((z) => z.end.at),
  ]) {
    const at = flip(p);
    field.reserve({
      minX: at[0] - 1.8 * scale,
      maxX: at[0] + 1.8 * scale,
      minY: at[1] - 1.8 * scale,
      maxY: at[1] + 1.8 * scale,
    });
  }
  const names = nameMarks(sheet, scale, field);
  const runs = sheet.zones.flatMap((zone) => runMarks(zone, sheet, scale, field));
  const datum = holdsDatum(sheet) ? datumSymbol([0, 0], scale) : [];
  const thermostat = sheet.thermostat === undefined ? [] : thermostatSymbol(flip(sheet.thermostat), scale);
  return {
    marks: [...ground, ...walls, ...datum, ...cables, ...sensors, ...thermostat, ...names.marks, ...runs],
    keys: names.keys,
  };
};

/** Whether the zero point of coordinates lies on the plan, so that it can be shown. */
export const holdsDatum = (sheet: PlanSheet): boolean => {
  const box = boxOf(planExtent(sheet));
  return box.minX <= 0 && box.maxX >= 0 && box.minY <= 0 && box.maxY >= 0;
};

/** Every model point the plan reaches, for its extent. */
export const planExtent = (sheet: PlanSheet): Point[] => [
  ...sheet.zones.flatMap((zone) => [
    ...zone.outline,
    ...(zone.curb?.outline ?? []),
    ...(zone.crossing ?? []),
    ...(zone.coldLead ?? []),
    ...(zone.joint === undefined ? [] : [zone.joint]),
  ]),
  ...(sheet.thermostat === undefined ? [] : [sheet.thermostat]),
  ...(sheet.sensors ?? []).flatMap((sensor) => [sensor.at, ...sensor.lead]),
];
