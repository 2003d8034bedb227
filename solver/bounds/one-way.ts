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
 * To find all such x, the nodes of every short run across (one axis at a time) are drawn together into one, an edge is
 * added from where paths end to where they begin, and what does not lie in the block (2-connected component) of that
 * edge is parted from both by a single drawn-together node.
 */

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
  const START = size;
  const END = size + 1;
  const firsts = [...new Set(starts.filter((v) => reached[v] === 1).map((v) => group[v]))];
  const lasts: number[] = [];
  const atStart = new Uint8Array(size);
  const atEnd = new Uint8Array(size);
  for (const g of firsts) atStart[g] = 1;
  for (let v = 0; v < size; v++) {
    if (reached[v] === 0 || ends[v] === 0 || atEnd[group[v]] === 1) continue;
    atEnd[group[v]] = 1;
    lasts.push(group[v]);
  }
  if (firsts.length === 0 || lasts.length === 0) return reached;
  /** Neighbour number k of a group, -1 where there is none, -2 beyond the last. */
  const neighbour = (g: number, k: number): number => {
    if (g === START) return k === 0 ? END : (firsts[k - 1] ?? -2);
    if (g === END) return lasts[k] ?? -2;
    const beyond = k - 4 * count[g];
    if (beyond > 1) return -2;
    if (beyond === 0) return atStart[g] === 1 ? START : -1;
    if (beyond === 1) return atEnd[g] === 1 ? END : -1;
    const v = g + (k >> 2) * across;
    const way = k & 3;
    if (way === 0) return east[v] === 1 ? group[v + 1] : -1;
    if (way === 1) return north[v] === 1 ? group[v + nx] : -1;
    if (way === 2) return v > 0 && east[v - 1] === 1 ? group[v - 1] : -1;
    return v >= nx && north[v - nx] === 1 ? group[v - nx] : -1;
  };
  // Blocks by depth-first search (Hopcroft and Tarjan) from START, whose first neighbour is END: what is left below END
  // when all smaller blocks are taken off is the block of the edge between them.
  const order = new Int32Array(size + 2).fill(-1);
  const low = new Int32Array(size + 2);
  const next = new Int32Array(size + 2);
  const parent = new Int32Array(size + 2).fill(-1);
  const open: number[] = [END];
  let counted = 2;
  order[START] = 0;
  order[END] = low[END] = 1;
  parent[END] = START;
  for (let g = END; g !== START; ) {
    const h = neighbour(g, next[g]++);
    if (h === -1) continue;
    if (h >= 0) {
      if (order[h] >= 0) {
        low[g] = Math.min(low[g], order[h]);
        continue;
      }
      order[h] = low[h] = counted++;
      parent[h] = g;
      open.push(h);
      g = h;
      continue;
    }
    const up = parent[g];
    if (up !== START) {
      low[up] = Math.min(low[up], low[g]);
      if (low[g] >= order[up]) open.length = open.lastIndexOf(g);
    }
    g = up;
  }
  const kept = new Uint8Array(size);
  for (const g of open) if (g !== END) for (let k = 0; k < count[g]; k++) kept[g + k * across] = 1;
  return kept;
}
