import { depthInRing, distance, polylineLength } from '../geometry/measure.js';
import type { Cable, Point, Setting, Trace, Zone } from '../problem.js';
import { AREA_TOLERANCE } from './area-rule.js';
import { deepest } from './deepest.js';
import { cableAt, earliestAt, isUsable, type Line, latestAt, pointAt, stretch } from './line.js';
import type { EndReport, LengthReport, RuleVerdict, Violation } from './report.js';
import { mm, verdictOf, type Worst } from './verdict.js';

/** The path's length may differ from the cable's by this much, mm; so may the reserve's reach. */
const LENGTH_TOLERANCE = 1;

const NOISE = 1e-6;

/** Violations of the end rule nearer than this are one place, mm. */
const ONE_PLACE = 20;

/** Where along the line the cable can end. Positions in mm of sharp line. */
export interface EndWindow {
  /** Length tolerance t, mm. */
  readonly tolerance: number;
  readonly earliest: number;
  readonly latest: number;
  /** Cable for which there is no line left at length + t, mm. */
  readonly missing: number;
}

/** Lengths of the path as drawn, with rounded corners. */
export const lengthReport = (zone: Zone, cable: Cable, line: Line, trace: Trace): LengthReport => {
  const corners = line.corners.filter(({ position }) => position < line.pathEnd);
  const cornerSaving = corners.reduce((sum, { saving }) => sum + saving, 0);
  const sharp = polylineLength(trace.path.filter(isUsable));
  return {
    cable: cable.length,
    leadIn: zone.leadIn,
    path: sharp - cornerSaving + zone.leadIn,
    sharp,
    cornerSaving,
    turns: corners.length,
  };
};

export const lengthRule = (length: LengthReport, end: Point | null): RuleVerdict => {
  const off = length.path - length.cable;
  const size = Math.abs(off);
  const violations: Violation[] = [];
  if (size > LENGTH_TOLERANCE + NOISE) {
    const message = `The path takes ${mm(length.path)} of cable, the cable has ${mm(length.cable)}: ${mm(size)} too ${off > 0 ? 'long' : 'short'}.`;
    violations.push({ at: end ?? [0, 0], size, message });
  }
  return verdictOf('length', LENGTH_TOLERANCE, { value: size, at: end }, violations);
};

/**
 * Window of ends for lengths within t = tolerance x length + slop per turn x turns of nominal; lengths along the
 * line are measured as `cableAt` says. Where a corner's saving leaves two positions the window takes both in.
 */
export const endWindow = (
  zone: Zone,
  setting: Setting,
  cable: Cable,
  line: Line,
  turns: number,
): EndWindow => {
  const tolerance = cable.tolerance * cable.length + setting.placementSlopPerTurn * turns;
  return {
    tolerance,
    earliest: earliestAt(line, zone.leadIn, cable.length - tolerance) ?? line.end,
    latest: latestAt(line, zone.leadIn, cable.length + tolerance) ?? line.end,
    missing: Math.max(0, cable.length + tolerance - cableAt(line, zone.leadIn, line.end)),
  };
};

/** Every point where the cable can end lies in the buffer (0.5 mm tolerance); sizes are mm outside it. */
export const endRule = (zone: Zone, line: Line, window: EndWindow): RuleVerdict => {
  const outside = (p: Point): number => -depthInRing(p, zone.buffer);
  const violations: Violation[] = [];
  let worst: Worst = { value: Number.NEGATIVE_INFINITY, at: null };
  const walk = line.points.length === 0 ? [] : stretch(line, window.earliest, window.latest);
  walk.forEach((b, k) => {
    if (k === 0 && walk.length > 1) return;
    const peak = deepest(outside, walk[k - 1] ?? b, b, AREA_TOLERANCE);
    if (peak.value > worst.value) worst = peak;
    if (peak.value <= AREA_TOLERANCE + NOISE) return;
    const message = `The cable can end here, ${mm(peak.value)} outside the buffer.`;
    violations.push({ at: peak.at, size: peak.value, message });
  });
  if (walk.length === 0) {
    violations.push({ at: [0, 0], size: 0, message: 'There is no line, so no end in the buffer.' });
  }
  return verdictOf('end-in-buffer', AREA_TOLERANCE, worst, violations, ONE_PLACE);
};

/** The reserve begins where the path ends and reaches far enough for the longest cable. */
export const reserveRule = (trace: Trace, line: Line, window: EndWindow): RuleVerdict => {
  const violations: Violation[] = [];
  const end = trace.path[trace.path.length - 1];
  const begin = trace.reserve[0];
  const gap = end !== undefined && begin !== undefined ? distance(end, begin) : 0;
  if (begin !== undefined && !(gap <= 0.01)) {
    const size = Number.isFinite(gap) ? gap : 0;
    violations.push({
      at: isUsable(begin) ? begin : [0, 0],
      size,
      message: `The reserve begins ${mm(size)} from the end of the path.`,
    });
  }
  if (window.missing > LENGTH_TOLERANCE + NOISE) {
    violations.push({
      at: pointAt(line, line.end),
      size: window.missing,
      message: `Path and reserve end ${mm(window.missing)} short of the longest cable.`,
    });
  }
  const at = line.points.length === 0 ? null : pointAt(line, line.end);
  return verdictOf('reserve', LENGTH_TOLERANCE, { value: window.missing, at }, violations);
};

/** How far one can walk from `from` in direction `way` before the buffer is left or the line ends: a position. */
const walkInBuffer = (zone: Zone, line: Line, from: number, way: 1 | -1): number => {
  let position = from;
  let next = from;
  for (;;) {
    const depth = depthInRing(pointAt(line, next), zone.buffer) + AREA_TOLERANCE;
    if (depth < 0) return position;
    position = next;
    next = Math.min(line.end, Math.max(0, position + way * Math.max(depth, 0.25)));
    if (next === position) return position;
  }
};

/** End points and slack; `at` is the path's last point. */
export const endReport = (
  zone: Zone,
  cable: Cable,
  trace: Trace,
  line: Line,
  window: EndWindow,
): EndReport => {
  const last = trace.path.filter(isUsable).at(-1) ?? [0, 0];
  const { tolerance } = window;
  const nominal = latestAt(line, zone.leadIn, cable.length) ?? line.end;
  let slack = -tolerance;
  if (line.points.length > 0 && depthInRing(pointAt(line, nominal), zone.buffer) >= -AREA_TOLERANCE) {
    const least = cableAt(line, zone.leadIn, walkInBuffer(zone, line, nominal, -1));
    const most = cableAt(line, zone.leadIn, walkInBuffer(zone, line, nominal, 1));
    slack = Math.max(-tolerance, Math.min(cable.length - least, most - cable.length) - tolerance);
  }
  return {
    at: last,
    earliest: pointAt(line, window.earliest),
    latest: pointAt(line, window.latest),
    tolerance,
    slack,
  };
};
