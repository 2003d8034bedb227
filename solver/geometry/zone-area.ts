import type { Exclusion, Region, Zone } from '../problem.js';
import { areaOf, grow, regionOf, subtract, uniteAll } from './region.js';

/** An exclusion grown by its clearance: where the cable's centre line may not go. */
export const keepOut = (exclusion: Exclusion): Region => {
  const { shape, clearance } = exclusion;
  return shape.kind === 'circle'
    ? regionOf({ kind: 'circle', center: shape.center, radius: shape.radius + clearance })
    : grow(regionOf(shape), clearance);
};

/** Where the cable's centre line may lie: outline inset by its clearance, minus every exclusion grown by its own. */
export const routingArea = (zone: Zone): Region =>
  subtract(grow(regionOf(zone.outline), -zone.clearance), uniteAll(zone.exclusions.map(keepOut)));

/** The floor that coverage is measured on: routing area, and the bands along seams, minus buffer. */
export const targetArea = (zone: Zone, routing: Region): Region =>
  subtract(zone.exclusions.some(({ seam }) => seam) ? withSeams(zone) : routing, regionOf(zone.buffer));

const withSeams = (zone: Zone): Region =>
  routingArea({
    ...zone,
    exclusions: zone.exclusions.map((x) => (x.seam ? { ...x, clearance: 0 } : x)),
  });

/** `region` without its slivers: rings of less than `least` mm2. */
export const withoutSlivers = (region: Region, least: number): Region =>
  region.filter((ring) => Math.abs(areaOf([ring])) >= least);
