import { cornerRadius, type Point, type Ring, type Shape } from '../../solver/problem.js';
import { flip, type Mark, roundedPieces } from './marks.js';
import type { PlanSheet, SheetZone } from './model.js';
import { drawingScale, planFrame } from './plan-frame.js';
import { type R12Drawing, type R12Layer, type R12Vertex, r12Drawing } from './r12.js';
import { dimensionText, lengthText } from './units.js';

const LAYERS: readonly R12Layer[] = [
  { name: 'WALL', color: 7, lineType: 'CONTINUOUS' },
  { name: 'NO_HEAT', color: 8, lineType: 'CONTINUOUS' },
  { name: 'BUFFER', color: 8, lineType: 'DASHED' },
  { name: 'COLD_PATCH', color: 9, lineType: 'DOT' },
  { name: 'HEATING_CABLE', color: 1, lineType: 'CONTINUOUS' },
  { name: 'RESERVE', color: 1, lineType: 'DASHED' },
  { name: 'CABLE_END', color: 1, lineType: 'CONTINUOUS' },
  { name: 'COLD_LEAD', color: 5, lineType: 'DASHDOT' },
  { name: 'JOINT', color: 5, lineType: 'CONTINUOUS' },
  { name: 'SENSOR', color: 3, lineType: 'DOT' },
  { name: 'THERMOSTAT', color: 5, lineType: 'CONTINUOUS' },
  { name: 'CURB', color: 8, lineType: 'CONTINUOUS' },
  { name: 'DRAIN', color: 8, lineType: 'CONTINUOUS' },
  { name: 'CHECKPOINT', color: 6, lineType: 'CONTINUOUS' },
  { name: 'DIMENSIONS', color: 8, lineType: 'CONTINUOUS' },
  { name: 'TEXT', color: 7, lineType: 'CONTINUOUS' },
];

const straight = (ring: Ring): R12Vertex[] => ring.map((at) => ({ at, bulge: 0 }));

/** Vertices of a polyline whose corners are arcs. */
const rounded = (points: Ring, radius: number): R12Vertex[] => {
  const pieces = roundedPieces(points, radius);
  const last = pieces.at(-1);
  return [
    ...pieces.map((piece) => ({
      at: piece.from,
      bulge: piece.kind === 'arc' ? Math.tan(piece.turn / 4) : 0,
    })),
    ...(last === undefined ? [] : [{ at: last.to, bulge: 0 }]),
  ];
};

const shape = (dxf: R12Drawing, layer: string, what: Shape): void => {
  if (what.kind === 'circle') dxf.circle(layer, what.center, what.radius);
  else if (what.outline.length > 2) dxf.polyline(layer, straight(what.outline), true);
};

const open = (dxf: R12Drawing, layer: string, vertices: readonly R12Vertex[]): void => {
  if (vertices.length > 1) dxf.polyline(layer, vertices, false);
};

const middle = (ring: Ring): Point => [
  ring.reduce((sum, p) => sum + p[0], 0) / Math.max(1, ring.length),
  ring.reduce((sum, p) => sum + p[1], 0) / Math.max(1, ring.length),
];

const zoneEntities = (dxf: R12Drawing, zone: SheetZone, sheet: PlanSheet, ratio: number): void => {
  const radius = cornerRadius(sheet.lattice);
  dxf.polyline('WALL', straight(zone.outline), true);
  for (const exclusion of zone.exclusions) {
    shape(dxf, 'NO_HEAT', exclusion.shape);
    const at = exclusion.shape.kind === 'circle' ? exclusion.shape.center : middle(exclusion.shape.outline);
    if (exclusion.shape.kind === 'circle' || exclusion.shape.outline.length > 2)
      dxf.text('TEXT', at, 2.5 * ratio, 0, exclusion.id);
  }
  if (zone.buffer.length > 2) dxf.polyline('BUFFER', straight(zone.buffer), true);
  for (const ring of zone.coverage.cold)
    if (ring.length > 2) dxf.polyline('COLD_PATCH', straight(ring), true);
  if (zone.curb !== undefined) dxf.polyline('CURB', straight(zone.curb.outline), true);
  if (zone.drain !== undefined) shape(dxf, 'DRAIN', zone.drain);
  open(dxf, 'HEATING_CABLE', rounded(zone.crossing ?? [], radius));
  open(dxf, 'HEATING_CABLE', rounded(zone.path, radius));
  open(dxf, 'RESERVE', rounded(zone.reserve, radius));
  open(dxf, 'COLD_LEAD', rounded(zone.coldLead ?? [], radius));
  if (zone.joint !== undefined) dxf.circle('JOINT', zone.joint, ratio);
  for (const at of [zone.end.earliest, zone.end.at, zone.end.latest])
    dxf.circle('CABLE_END', at, ratio * 0.6);
  for (const stop of zone.checkpoints ?? []) dxf.circle('CHECKPOINT', stop.at, ratio);
  for (const run of zone.runs)
    dxf.text(
      'TEXT',
      [(run.from[0] * 5 + run.to[0]) / 6, (run.from[1] * 5 + run.to[1]) / 6],
      1.6 * ratio,
      0,
      String(run.n),
    );
};

const markEntities = (dxf: R12Drawing, mark: Mark, layer: string): void => {
  if (mark.kind === 'text') {
    dxf.text(layer, flip(mark.at), mark.size * 0.72, mark.rotate === 0 ? 0 : -mark.rotate, mark.text);
    return;
  }
  let pencil: Point = [0, 0];
  for (const [, command, x, y] of mark.d.matchAll(/([ML])(-?[\d.]+) (-?[\d.]+)/g)) {
    const to = flip([Number(x), Number(y)]);
    if (command === 'L') dxf.line(layer, pencil, to);
    pencil = to;
  }
};

/**
 * The plan as a DXF R12 document in millimetres of the room, y up. Areas and cables are POLYLINE entities on layers
 * named for what they hold (cable corners are arcs by bulge), round things CIRCLE, dimensions LINE and TEXT.
 */
export const drawingDxf = (sheet: PlanSheet): string => {
  const { ratio } = drawingScale(sheet);
  const dxf = r12Drawing(LAYERS, `${sheet.title}, plan ${sheet.id}, units: millimetres`);
  for (const zone of sheet.zones) zoneEntities(dxf, zone, sheet, ratio);
  for (const sensor of sheet.sensors ?? []) {
    dxf.circle('SENSOR', sensor.at, 1.7 * ratio);
    open(dxf, 'SENSOR', straight(sensor.lead));
    dxf.text(
      'TEXT',
      [sensor.at[0], sensor.at[1] + 2.4 * ratio],
      2 * ratio,
      0,
      sensor.spare ? `${sensor.id} (spare)` : sensor.id,
    );
  }
  if (sheet.thermostat !== undefined) dxf.circle('THERMOSTAT', sheet.thermostat, 2.5 * ratio);
  const frame = planFrame(sheet, ratio);
  for (const mark of frame.dimensions.marks) markEntities(dxf, mark, 'DIMENSIONS');
  const centre = (frame.left + frame.right) / 2;
  const unit =
    sheet.display === 'metric'
      ? 'dimensions in mm'
      : `coordinates in mm, ${dimensionText(304.8, 'imperial')} = 304.8`;
  const lines = [
    `${sheet.title} - plan ${sheet.id} - ${unit}`,
    ...sheet.zones.map(
      (zone) =>
        `${zone.id}: cable ${zone.cable.id}, ${lengthText(zone.length.cable, sheet.display)}, ${zone.length.turns} turns`,
    ),
  ];
  lines.forEach((text, i) => {
    dxf.text('TEXT', [centre, -frame.bottom - (i + 2) * 6 * ratio], 3 * ratio, 0, text);
  });
  return dxf.toString();
};
