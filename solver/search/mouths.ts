import type { StudLattice } from '../lattice/stud-lattice.js';
import type { ZoneSpace } from './zone-space.js';

/** Where the buffer lies straight ahead of a node: studs to its first node, 0 where it is not in reach. */
export interface Mouths {
  readonly east: Uint8Array;
  readonly west: Uint8Array;
  readonly north: Uint8Array;
  readonly south: Uint8Array;
  /** What ending by each way costs beside its length, mm2; nothing when left out. */
  readonly price?: Readonly<Record<Side, Float64Array>>;
}

export const SIDES = ['east', 'west', 'north', 'south'] as const;
export type Side = (typeof SIDES)[number];

/** What one stud to each side adds to a node's number. */
export const stepsOf = ({ nx }: StudLattice): Readonly<Record<Side, number>> => ({
  east: 1,
  west: -1,
  north: nx,
  south: -nx,
});

/** Studs the path may run between the main stretch and the buffer cost this much cold area each, mm2. */
const STUB_COST = 20;

/** Ways from usable nodes into the buffer, straight along one channel, at most `most` studs long. */
export function mouthsOf({ s, usable, buffer }: ZoneSpace, most: number): Mouths {
  const look = (step: number, pieces: Uint8Array, offset: number): Uint8Array => {
    const ways = new Uint8Array(s.free.length);
    for (let v = 0; v < ways.length; v++) {
      if (!usable[v]) continue;
      for (let k = 1, w = v; k <= most && pieces[w + offset]; k++) {
        w += step;
        if (!buffer[w]) continue;
        ways[v] = k;
        break;
      }
    }
    return ways;
  };
  return {
    east: look(1, s.east, 0),
    west: look(-1, s.east, -1),
    north: look(s.nx, s.north, 0),
    south: look(-s.nx, s.north, -s.nx),
  };
}

/** Cost of ending at v when the ways shorter than the given free distances count; Infinity when there is none. */
export function endCostAt(
  mouths: Mouths,
  v: number,
  free: { east: number; west: number; north: number; south: number },
): number {
  let least = Infinity;
  for (const side of SIDES) {
    const steps = mouths[side][v];
    if (steps > 0 && steps < free[side])
      least = Math.min(least, STUB_COST * (steps - 1) + (mouths.price?.[side][v] ?? 0));
  }
  return least;
}
