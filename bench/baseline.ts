import { areaOf, intersect, regionOf, tube } from '../solver/geometry/region.js';
import { routingArea, targetArea } from '../solver/geometry/zone-area.js';
import { nearestFree, nodePoint, type StudLattice, studLattice } from '../solver/lattice/stud-lattice.js';
import { heatRadius, type Point, type Ring, type Setting, type Zone } from '../solver/problem.js';

/** What a plain serpentine in one direction makes of a room, without a thought for the cable's length. */
export interface Baseline {
  readonly coverage: number;
  readonly turns: number;
  /** mm, corners rounded */
  readonly length: number;
  readonly endsInBuffer: boolean;
}

/** Runs at the target spacing, turned at the walls, until one cannot go on; the better of both directions. */
export function plainSerpentine(zone: Zone, setting: Setting): Baseline {
  const routing = routingArea(zone);
  const s = studLattice(setting.lattice, routing);
  const target = targetArea(zone, routing);
  const total = areaOf(target);
  const start = nearestFree(s, zone.entry);
  let best: Baseline = { coverage: 0, turns: 0, length: 0, endsInBuffer: false };
  if (start < 0) return best;
  for (const along of [1, s.nx])
    for (const forward of [1, -1])
      for (const sideways of [1, -1]) {
        const path = serpentine(s, start, along * forward, (along === 1 ? s.nx : 1) * sideways, setting);
        const heated = areaOf(intersect(tube(path, heatRadius(setting)), target));
        const coverage = total > 0 ? heated / total : 1;
        if (coverage <= best.coverage) continue;
        const turns = path.length - 2;
        const end = path[path.length - 1];
        best = {
          coverage,
          turns,
          length: lengthOf(path) - turns * (2 - Math.PI / 2) * (setting.lattice.pitch / 2),
          endsInBuffer:
            areaOf(intersect(regionOf({ kind: 'circle', center: end, radius: 1 }), regionOf(zone.buffer))) >
            1,
        };
      }
  return best;
}

function serpentine(s: StudLattice, start: number, along: number, over: number, setting: Setting): Ring {
  const open = (v: number, step: number): boolean =>
    (step === 1 ? s.east[v] : step === -1 ? s.east[v - 1] : step > 0 ? s.north[v] : s.north[v + step]) === 1;
  const walk = (from: number, step: number, most: number): number => {
    let v = from;
    for (let k = 0; k < most && open(v, step); k++) v += step;
    return v;
  };
  const corners: number[] = [start];
  let v = start;
  let step = along;
  for (;;) {
    const end = walk(v, step, s.free.length);
    if (end !== v) corners.push(end);
    const next = walk(end, over, setting.spacing.target);
    if (Math.abs(next - end) !== Math.abs(over) * setting.spacing.target) break;
    corners.push(next);
    v = next;
    step = -step;
  }
  return corners.map((c): Point => nodePoint(s, c));
}

const lengthOf = (path: Ring): number =>
  path.reduce(
    (sum, p, k) => (k === 0 ? 0 : sum + Math.hypot(p[0] - path[k - 1][0], p[1] - path[k - 1][1])),
    0,
  );
