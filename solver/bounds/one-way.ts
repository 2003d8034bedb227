/**
 * Floor that no legal path can visit because it would have to come back the way it went.
 *
 * A legal path is simple, and two points of it nearer than D = spacing.min x p have at most sqrt(2) times their distance
 * + 1 mm of path between them. Let S be a set of nodes on one channel, k p < D from first to last, and let the removal
 * of S part a node x from the entry and from every node where the last full edge may end. A path through x meets S
 * before and after it, last in some u and first in some w; u and w differ, j p apart with 1 <= j <= k, and a way from u
 * to w off their channel takes at least (j + 2) p. That is more than sqrt(2) j p + 1 while 2 p - 1 > (sqrt(2) - 1) j p,
 * so for k <= 4 and p >= 3 mm no legal path visits x.
 *
 * To find all such x, the nodes of every short run across (one axis at a time) are drawn together into one: what then
 * lies on no simple path from the entry to an end is parted from both by a single drawn-together node.
 */
import { onSimplePaths } from '../model/simple-paths.js';

/** Longest set S, steps from its first to its last node, and least pitch (mm) for which the proof holds. */
const LONGEST_NECK = 4;
const LEAST_PITCH = 3;

/** A grid graph: node v = j * nx + i, edges v -> v + 1 and v -> v + nx; nothing in the outermost rows and columns is reached. */
export interface ReachedGrid {
  readonly nx: number;
  /** 1 where the node can be reached from the entry. */
  readonly reached: Uint8Array;
  readonly east: Uint8Array;
  readonly north: Uint8Array;
  /** Nodes where a path may begin. */
  readonly starts: readonly number[];
  /** 1 where the last full edge of a path may end. */
  readonly ends: Uint8Array;
}

/** The nodes that a legal path may visit, as far as necks tell; all that are reached where no end is. */
export function passable(grid: ReachedGrid, pitch: number, least: number): Uint8Array {
  const longest = pitch < LEAST_PITCH ? 0 : Math.min(LONGEST_NECK, least - 1);
  const first = throughNecks(grid, grid.nx, longest);
  return throughNecks({ ...grid, reached: first }, 1, longest);
}

/** `across`: step of the runs that are drawn together, of up to `longest` steps each. */
function throughNecks(grid: ReachedGrid, across: number, longest: number): Uint8Array {
  const { nx, reached, east, north, starts, ends } = grid;
  const size = reached.length;
  /** First node of the run that a node belongs to, and its number of nodes. */
  const group = new Int32Array(size).fill(-1);
  const count = new Uint8Array(size);
  for (let v = 0; v < size; v++) {
    if (reached[v] === 0 || group[v] >= 0) continue;
    const before = v - across;
    const begins = before < 0 || reached[before] === 0;
    let n = 1;
    while (begins && n <= longest + 1 && reached[v + n * across] === 1) n++;
    if (!begins || n > longest + 1) n = 1;
    count[v] = n;
    for (let k = 0; k < n; k++) group[v + k * across] = v;
  }
  const firsts = [...new Set(starts.filter((v) => reached[v] === 1).map((v) => group[v]))];
  const lasts = [
    ...new Set([...ends.keys()].filter((v) => reached[v] === 1 && ends[v] === 1).map((v) => group[v])),
  ];
  if (firsts.length === 0 || lasts.length === 0) return reached;
  const neighbour = (g: number, k: number): number => {
    const v = g + (k >> 2) * across;
    const way = k & 3;
    if (way === 0) return east[v] === 1 ? group[v + 1] : -1;
    if (way === 1) return north[v] === 1 ? group[v + nx] : -1;
    if (way === 2) return v > 0 && east[v - 1] === 1 ? group[v - 1] : -1;
    return v >= nx && north[v - nx] === 1 ? group[v - nx] : -1;
  };
  const isOn = onSimplePaths({ count: size, degree: (g) => 4 * count[g], neighbour }, firsts, lasts);
  return Uint8Array.from(group, (g) => (g < 0 ? 0 : isOn[g]));
}
