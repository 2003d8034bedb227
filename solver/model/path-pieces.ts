import type { GridTask } from './grid-task.js';
import { isSingleNode, type PathModel } from './path-mip.js';

/**
 * A set of grid edges that forms one path from the start and any number of stray cycles.
 * Edges are indexed by their west or south node; `piece[v]` is 0 on the path, 1.. on the cycles, -1 elsewhere.
 */
export interface PathPieces {
  readonly task: GridTask;
  readonly east: Uint8Array;
  readonly north: Uint8Array;
  readonly piece: Int32Array;
  readonly count: number;
}

/** Pieces of an integer solution of the model. */
export function readPieces(path: PathModel, values: Float64Array): PathPieces {
  const { task, low, horizontal } = path.graph;
  const east = new Uint8Array(task.present.length);
  const north = new Uint8Array(task.present.length);
  for (let e = 0; e < low.length; e++) {
    if (values[e] < 0.5) continue;
    if (horizontal[e] === 1) east[low[e]] = 1;
    else north[low[e]] = 1;
  }
  return label(task, east, north);
}

/** Neighbours of v along used edges. */
export function usedNeighbours(task: GridTask, east: Uint8Array, north: Uint8Array, v: number): number[] {
  const { nx } = task;
  const found: number[] = [];
  if (v % nx > 0 && east[v - 1] === 1) found.push(v - 1);
  if (east[v] === 1) found.push(v + 1);
  if (v >= nx && north[v - nx] === 1) found.push(v - nx);
  if (north[v] === 1) found.push(v + nx);
  return found;
}

function label(task: GridTask, east: Uint8Array, north: Uint8Array): PathPieces {
  const piece = new Int32Array(task.present.length).fill(-1);
  let count = 0;
  const walk = (from: number): void => {
    let v = from;
    for (let next: number | undefined = from; next !== undefined; ) {
      v = next;
      piece[v] = count;
      next = usedNeighbours(task, east, north, v).find((w) => piece[w] < 0);
    }
    count++;
  };
  walk(task.start);
  for (let v = 0; v < piece.length; v++) {
    if (piece[v] < 0 && usedNeighbours(task, east, north, v).length > 0) walk(v);
  }
  return { task, east, north, piece, count };
}

/** Node sets of the stray cycles, as masks. */
export function strayCycles(pieces: PathPieces): Uint8Array[] {
  return Array.from({ length: pieces.count - 1 }, (_, k) =>
    pieces.piece.map((p) => (p === k + 1 ? 1 : 0)),
  ).map((m) => Uint8Array.from(m));
}

/** One way to rid a cycle: the edges it toggles (+ east index, or ~north index) and what it costs. */
interface Move {
  readonly cost: number;
  readonly toggles: readonly number[];
}

/**
 * Joins every stray cycle to the path, cheapest move first: flipping two parallel edges of a 2x2 block between two
 * pieces (keeps the coverage), running the path's end once around a neighbouring cycle (keeps it too), or leaving the
 * cycle's nodes unvisited. Returns the path's nodes from start to end, or null when some cycle cannot be rid.
 */
export function mergePieces(pieces: PathPieces): Int32Array | null {
  const { task } = pieces;
  let now = pieces;
  while (now.count > 1) {
    const move = cheapestMove(now);
    if (move === null) return null;
    const east = now.east.slice();
    const north = now.north.slice();
    for (const t of move.toggles) {
      if (t >= 0) east[t] ^= 1;
      else north[~t] ^= 1;
    }
    now = label(task, east, north);
  }
  return walkPath(now);
}

function walkPath(pieces: PathPieces): Int32Array | null {
  const { task, east, north } = pieces;
  const nodes = [task.start];
  let previous = -1;
  let v = task.start;
  for (;;) {
    const next = usedNeighbours(task, east, north, v).find((w) => w !== previous);
    if (next === undefined) break;
    previous = v;
    v = next;
    nodes.push(v);
  }
  return nodes.length > 1 || isSingleNode(task) ? Int32Array.from(nodes) : null;
}

function cheapestMove(pieces: PathPieces): Move | null {
  let best: Move | null = null;
  const offer = (move: Move | null): void => {
    if (move !== null && (best === null || move.cost < best.cost - 1e-9)) best = move;
  };
  for (let v = 0; v < pieces.piece.length; v++) offer(flipMove(pieces, v));
  for (const move of endMoves(pieces)) offer(move);
  for (let k = 1; k < pieces.count; k++) offer(dropMove(pieces, k));
  return best;
}

/** Cost of the edges and corners around the nodes with the given edges used. */
function localCost(task: GridTask, east: Uint8Array, north: Uint8Array, nodes: readonly number[]): number {
  const { nx } = task;
  let cost = 0;
  for (const v of nodes) {
    const w = v % nx > 0 ? east[v - 1] : 0;
    const s = v >= nx ? north[v - nx] : 0;
    if (w + east[v] === 1 && s + north[v] === 1) cost += task.turnCost[v];
  }
  return cost;
}

/** The flip of the block whose south-west node is v, when it joins two pieces. */
function flipMove(pieces: PathPieces, v: number): Move | null {
  const { task, east, north, piece } = pieces;
  const { nx } = task;
  if (v % nx === nx - 1 || v + nx >= piece.length) return null;
  if (task.east[v] + task.east[v + nx] + task.north[v] + task.north[v + 1] < 4) return null;
  const rows = east[v] + east[v + nx];
  const columns = north[v] + north[v + 1];
  const isFlat = rows === 2 && columns === 0 && piece[v] !== piece[v + nx];
  const isUpright = rows === 0 && columns === 2 && piece[v] !== piece[v + 1];
  if (!isFlat && !isUpright) return null;
  const toggles = [v, v + nx, ~v, ~(v + 1)];
  const edges = task.northCost[v] + task.northCost[v + 1] - task.eastCost[v] - task.eastCost[v + nx];
  return {
    toggles,
    cost: (isFlat ? edges : -edges) + turnChange(pieces, toggles, [v, v + 1, v + nx, v + nx + 1]),
  };
}

function turnChange(pieces: PathPieces, toggles: readonly number[], nodes: readonly number[]): number {
  const { task, east, north } = pieces;
  const before = localCost(task, east, north, nodes);
  const toggle = (): void => {
    for (const t of toggles) {
      if (t >= 0) east[t] ^= 1;
      else north[~t] ^= 1;
    }
  };
  toggle();
  const after = localCost(task, east, north, nodes);
  toggle();
  return after - before;
}

/** Toggle code and cost of the edge between two neighbours. */
function edgeOf(task: GridTask, u: number, v: number): { toggle: number; cost: number; exists: boolean } {
  const low = Math.min(u, v);
  if (Math.abs(u - v) === 1 && task.nx > 1) {
    return { toggle: low, cost: task.eastCost[low], exists: task.east[low] === 1 };
  }
  return { toggle: ~low, cost: task.northCost[low], exists: task.north[low] === 1 };
}

/** Moves of the path's end: from the end step into a neighbouring cycle, round it, and end at a legal last node. */
function endMoves(pieces: PathPieces): Move[] {
  const { task, east, north, piece } = pieces;
  const { nx } = task;
  const path = walkPath(pieces);
  if (path === null) return [];
  const end = path[path.length - 1];
  if (task.endOnly[end] === 1) return [];
  const moves: Move[] = [];
  const around = [end % nx > 0 ? end - 1 : -1, end % nx < nx - 1 ? end + 1 : -1, end - nx, end + nx];
  for (const entry of around) {
    if (entry < 0 || entry >= piece.length || piece[entry] < 1) continue;
    const link = edgeOf(task, end, entry);
    if (!link.exists) continue;
    for (const last of usedNeighbours(task, east, north, entry)) {
      if (task.endCost[last] === Infinity) continue;
      const cut = edgeOf(task, entry, last);
      const toggles = [link.toggle, cut.toggle];
      const ends = task.endCost[last] - task.endCost[end];
      moves.push({
        toggles,
        cost: link.cost - cut.cost + ends + turnChange(pieces, toggles, [end, entry, last]),
      });
    }
  }
  return moves;
}

/** Leaves cycle k unvisited; null when one of its nodes must be visited. */
function dropMove(pieces: PathPieces, k: number): Move | null {
  const { task, east, north, piece } = pieces;
  let cost = 0;
  const toggles: number[] = [];
  const nodes: number[] = [];
  for (let v = 0; v < piece.length; v++) {
    if (piece[v] !== k) continue;
    nodes.push(v);
    cost += task.skipCost[v];
    if (east[v] === 1) {
      toggles.push(v);
      cost -= task.eastCost[v];
    }
    if (north[v] === 1) {
      toggles.push(~v);
      cost -= task.northCost[v];
    }
  }
  if (cost === Infinity) return null;
  return { toggles, cost: cost + turnChange(pieces, toggles, nodes) };
}
