/** A buffer strip for a zone whose caller names none. */

import { distance, pointSegmentDistance, signedArea } from '../geometry/measure.js';
import { areaOf, intersect, regionOf } from '../geometry/region.js';
import { routingArea } from '../geometry/zone-area.js';
import type { Lattice, Point, Ring, Spacing, Zone } from '../problem.js';

/** About 6 in; common practice, no source. */
export const BUFFER_DEPTH = 150;

/** A strip keeps this many of its depths from where the cable comes in. Own default. */
const AWAY = 2;

/** Strips whose free floor differs by less than this share count as equal: the first in the outline is taken. */
const SAME = 1e-6;

/** Depth that leaves room for two runs beside the wall. */
const depthFor = (zone: Zone, spacing: Spacing, lattice: Pick<Lattice, 'pitch'>): number =>
  Math.max(BUFFER_DEPTH, zone.clearance + (spacing.max + 1) * lattice.pitch);

/** Strip of `depth` along the wall a-b on the side `inward` (1: left of a-b). */
const stripAlong = (a: Point, b: Point, depth: number, inward: 1 | -1): Ring => {
  const length = distance(a, b);
  const nx = (-(b[1] - a[1]) / length) * depth * inward;
  const ny = ((b[0] - a[0]) / length) * depth * inward;
  const tidy = (v: number): number => Math.round(v * 10) / 10;
  return [a, b, [tidy(b[0] + nx), tidy(b[1] + ny)], [tidy(a[0] + nx), tidy(a[1] + ny)]];
};

/**
 * Strip along the wall with the most free floor beside it, of the walls that lie away from `inlet` (where the cable
 * comes in); of all walls where none lies away. mm. Null where cable can lie beside no wall.
 */
export function assumedBuffer(
  zone: Omit<Zone, 'buffer'>,
  spacing: Spacing,
  pitch: number,
  inlet: Point,
): Ring | null {
  const bare: Zone = { ...zone, buffer: [] };
  const depth = depthFor(bare, spacing, { pitch });
  const routing = routingArea(bare);
  const inward = signedArea(zone.outline) > 0 ? 1 : -1;
  let best: { readonly strip: Ring; readonly away: boolean; readonly free: number } | null = null;
  for (const [k, a] of zone.outline.entries()) {
    const b = zone.outline[(k + 1) % zone.outline.length] ?? a;
    if (distance(a, b) < depth) continue;
    const strip = stripAlong(a, b, depth, inward);
    const free = areaOf(intersect(routing, regionOf(strip)));
    const away = pointSegmentDistance(inlet, a, b) > AWAY * depth;
    if (free <= 0 || (best?.away && !away)) continue;
    if (best === null || (away && !best.away) || free > best.free * (1 + SAME)) best = { strip, away, free };
  }
  return best?.strip ?? null;
}
