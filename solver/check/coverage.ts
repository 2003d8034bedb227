import { areaOf, intersect, regionOf, subtract, tube } from '../geometry/region.js';
import { routingArea, targetArea, withoutSlivers } from '../geometry/zone-area.js';
import { heatRadius, type Point, type Region, type Setting, type Zone } from '../problem.js';
import type { EndWindow } from './end-rules.js';
import { type Line, stretch } from './line.js';
import type { CoverageReport } from './report.js';

/** Cold patches smaller than this (mm2) are rounding, not floor. */
const SLIVER = 1;

/** Segments that are taken off the floor together. */
const PIECE = 48;

/** An end further (mm) than this from the path's is measured from the start. */
const FAR = 20_000;

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
    if (apart) return;
    const last = parts[parts.length - 1];
    if (last !== undefined && last[last.length - 1] === a) last.push(b);
    else parts.push([a, b]);
  });
  return parts;
};

/**
 * What is left of `floor` beyond `radius` of the path. Taken off piece by piece: one tube about a drawing that crosses
 * itself thousands of times would cost the square of that.
 */
const coldLeft = (floor: Region, path: readonly Point[], radius: number): Region => {
  let cold = floor;
  for (let k = 0; k < path.length && cold.length > 0; k += PIECE) {
    cold = subtract(cold, tube(path.slice(k, k + PIECE + 1), radius));
  }
  return cold;
};

/** Area of `floor` that loses its heat when the line is cut back from `from` to `to` (to <= from). */
const lostArea = (line: Line, floor: Region, to: number, from: number, radius: number): number => {
  if (to >= from) return 0;
  const tail = stretch(line, to, from);
  let lost = intersect(tube(tail, radius), floor);
  for (const part of partsNear(line, to, tail, 2 * radius)) lost = coldLeft(lost, part, radius);
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
  const cold = withoutSlivers(coldLeft(target, path, radius), SLIVER);
  const total = areaOf(target);
  const unheated = Math.max(0, Math.min(total, areaOf(cold)));
  const heated = total - unheated;
  // What changes when the cable ends elsewhere: the next stretch of reserve warms more, or the end of the path less.
  const heatedTo = (to: number): number => {
    if (Math.abs(to - line.pathEnd) > FAR)
      return total - areaOf(coldLeft(target, stretch(line, 0, to), radius));
    return to > line.pathEnd
      ? heated + areaOf(intersect(cold, tube(stretch(line, line.pathEnd, to), radius)))
      : heated - lostArea(line, target, to, line.pathEnd, radius);
  };
  const share = (area: number): number => (total === 0 ? 1 : Math.max(0, Math.min(1, area / total)));
  return {
    targetArea: total * M2,
    heatedArea: heated * M2,
    unheatedArea: unheated * M2,
    fraction: share(heated),
    cold,
    bufferArea: areaOf(buffer) * M2,
    bufferHeatedArea: (areaOf(buffer) - areaOf(coldLeft(buffer, path, radius))) * M2,
    fractionShortest: share(heatedTo(window.earliest)),
    fractionLongest: share(heatedTo(window.latest)),
  };
};
