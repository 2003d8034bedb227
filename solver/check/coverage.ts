import { areaOf, intersect, regionOf, subtract, tube } from '../geometry/region.js';
import { routingArea, targetArea, withoutSlivers } from '../geometry/zone-area.js';
import { heatRadius, type Point, type Region, type Setting, type Zone } from '../problem.js';
import type { EndWindow } from './end-rules.js';
import { type Line, stretch } from './line.js';
import type { CoverageReport } from './report.js';

/** Cold patches smaller than this (mm2) are rounding, not floor. */
const SLIVER = 1;

const M2 = 1e-6;

/** The parts of the line up to position `to` that come within `reach` mm of `near`, as polylines. */
const partsNear = (line: Line, to: number, near: readonly Point[], reach: number): Point[][] => {
  const xs = near.map(([x]) => x);
  const ys = near.map(([, y]) => y);
  const [left, right] = [Math.min(...xs) - reach, Math.max(...xs) + reach];
  const [low, high] = [Math.min(...ys) - reach, Math.max(...ys) + reach];
  const upTo = stretch(line, 0, to);
  const parts: Point[][] = [];
  upTo.forEach((b, k) => {
    const a = upTo[k - 1] ?? b;
    const apart =
      Math.max(a[0], b[0]) < left ||
      Math.min(a[0], b[0]) > right ||
      Math.max(a[1], b[1]) < low ||
      Math.min(a[1], b[1]) > high;
    if (!apart) parts.push([a, b]);
  });
  return parts;
};

/** Area of `floor` that loses its heat when the line is cut back from `from` to `to` (to <= from). */
const lostArea = (line: Line, floor: Region, to: number, from: number, radius: number): number => {
  if (to >= from) return 0;
  const tail = stretch(line, to, from);
  let lost = intersect(tube(tail, radius), floor);
  for (const part of partsNear(line, to, tail, 2 * radius)) lost = subtract(lost, tube(part, radius));
  return areaOf(lost);
};

/**
 * Coverage on true geometry: heated is the floor within heatRadius of the centre line with its corners sharp.
 * An empty target is covered whole (fraction 1).
 */
export const coverageOf = (zone: Zone, setting: Setting, line: Line, window: EndWindow): CoverageReport => {
  const radius = heatRadius(setting);
  const routing = routingArea(zone);
  const target = targetArea(zone, routing);
  const buffer = intersect(routing, regionOf(zone.buffer));
  const path = line.points.length === 0 ? [] : stretch(line, 0, line.pathEnd);
  const heat = tube(path, radius);
  const cold = withoutSlivers(subtract(target, heat), SLIVER);
  const total = areaOf(target);
  const unheated = Math.max(0, Math.min(total, areaOf(cold)));
  const heated = total - unheated;
  // The longest cable warms what the reserve reaches of the cold patches; the shortest loses what only its end warmed.
  const gained =
    window.latest > line.pathEnd
      ? areaOf(intersect(cold, tube(stretch(line, line.pathEnd, window.latest), radius)))
      : -lostArea(line, target, window.latest, line.pathEnd, radius);
  const lost =
    window.earliest < line.pathEnd
      ? lostArea(line, target, window.earliest, line.pathEnd, radius)
      : -areaOf(intersect(cold, tube(stretch(line, line.pathEnd, window.earliest), radius)));
  const share = (area: number): number => (total === 0 ? 1 : Math.max(0, Math.min(1, area / total)));
  return {
    targetArea: total * M2,
    heatedArea: heated * M2,
    unheatedArea: unheated * M2,
    fraction: share(heated),
    cold,
    bufferArea: areaOf(buffer) * M2,
    bufferHeatedArea: areaOf(intersect(buffer, heat)) * M2,
    fractionShortest: share(heated - lost),
    fractionLongest: share(heated + gained),
  };
};
