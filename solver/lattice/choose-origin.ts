import { routingArea } from '../geometry/zone-area.js';
import type { Point, Zone } from '../problem.js';

/**
 * A phase of the lattice that suits the walls: channels should come close to the long edges of the routing areas, so
 * that runs can hug them. For each axis the offset (of all edge positions modulo the pitch) with the least sum of
 * edge length times distance to the nearest channel inside the area. Deterministic; smallest offset on a tie.
 */
export function chooseOrigin(zones: readonly Zone[], pitch: number): Point {
  const rings = zones.flatMap((zone) => routingArea(zone));
  const offset = (axis: 0 | 1): number => {
    const edges: { at: number; length: number; inside: 1 | -1 }[] = [];
    for (const ring of rings)
      for (let k = 0; k < ring.length; k++) {
        const p = ring[k];
        const q = ring[(k + 1) % ring.length];
        if (Math.abs(p[axis] - q[axis]) > 0.01) continue;
        const run = q[1 - axis] - p[1 - axis];
        if (Math.abs(run) < pitch) continue;
        // Outer rings run counter-clockwise: an edge going up has the area on its left.
        const inside = (axis === 0 ? run < 0 : run > 0) ? 1 : -1;
        edges.push({ at: p[axis], length: Math.abs(run), inside });
      }
    if (edges.length === 0) return zones.length > 0 ? zones[0].entry[axis] : 0;
    let best = edges[0].at;
    let least = Infinity;
    for (const { at } of edges) {
      let cost = 0;
      for (const edge of edges) cost += edge.length * modulo((at - edge.at) * edge.inside, pitch);
      if (cost < least - 1e-6 || (cost < least + 1e-6 && modulo(at, pitch) < modulo(best, pitch) - 1e-6)) {
        least = Math.min(least, cost);
        best = at;
      }
    }
    return best;
  };
  return [round(offset(0)), round(offset(1))];
}

const modulo = (a: number, n: number): number => {
  const r = ((a % n) + n) % n;
  return n - r < 1e-6 ? 0 : r;
};

const round = (a: number): number => Math.round(a * 1000) / 1000;
