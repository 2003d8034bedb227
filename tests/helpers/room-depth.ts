import { depthInRing, distance } from '../../solver/geometry/measure.js';
import type { Point, Zone } from '../../solver/problem.js';

/**
 * How far (mm) a point lies inside the routing area by the plain definition: distance to the wall line less the
 * clearance, and distance to each hole less its own; negative outside. Within corners and unions of holes this is
 * the exact distance to the nearest limit, and no polygon is offset for it.
 */
export const depthInRoom = (zone: Zone, p: Point): number =>
  Math.min(
    depthInRing(p, zone.outline) - zone.clearance,
    ...zone.exclusions.map(({ shape, clearance }) =>
      shape.kind === 'circle'
        ? distance(p, shape.center) - shape.radius - clearance
        : -depthInRing(p, shape.outline) - clearance,
    ),
  );
