import type { GridTask } from '../model/grid-task.js';
import { edgePotential, potentialBound } from '../search/frontier-potential.js';
import { sweepView } from '../search/frontier-view.js';

export interface TurnBound {
  /** Fewest straight pieces that partition the present nodes. */
  readonly pieces: number;
  /** No path covering the nodes turns less often; Infinity when there is no such path for certain. */
  readonly turns: number;
}

/** Improvement rounds of `fewestTurns`: on a 30 x 30 grid the bound is then the true 58. */
const ROUNDS = 800;
/** Taken off a bound before it is rounded up. */
export const ROUNDING = 1e-6;

/**
 * Bound on the turns of every path from the task's start to one of its ends (endCost finite) that visits all present
 * nodes, at most once each, along the task's edges; costs of the task play no part. For a path that leaves nodes out
 * make those nodes absent first.
 *
 * The larger of `fewestPieces` - 1 (cut such a path with k turns at its corners and leave each corner with one of its
 * legs: k + 1 straight pieces) and `fewestTurns`.
 */
export function turnBound(task: GridTask, rounds = ROUNDS): TurnBound {
  const pieces = fewestPieces(task);
  const all = task.skipCost.map(() => Number.POSITIVE_INFINITY);
  return { pieces, turns: Math.max(pieces - 1, fewestTurns({ ...task, skipCost: all }, rounds)) };
}

/**
 * Bound on the turns of every path from the task's start to one of its ends that visits at least the nodes of
 * infinite skipCost; the other nodes may be used or left out. Infinity when no such path exists for certain.
 *
 * Proof: give every edge e a number p(e) and let each node choose for itself which of its edges the path uses (none
 * where it may be left out, one at the start and the end, else two), paying 1 for a corner, + p(e) for each chosen
 * edge to a later node and - p(e) for each one to an earlier node. The choices a real path makes pay its turns in all,
 * for the p(e) cancel. The cheapest choices of all nodes, exactly one of them ending, pay no more, whatever p is. The
 * p are found by coordinate ascent; on an empty m x n rectangle the bound comes to 2 min(m, n) - 2.
 */
export function fewestTurns(task: GridTask, rounds = ROUNDS): number {
  const size = task.present.length;
  const zero = new Float64Array(size);
  const view = sweepView(
    {
      ...task,
      eastCost: zero,
      northCost: zero,
      endCost: task.endCost.map((cost) => (cost === Number.POSITIVE_INFINITY ? cost : 0)),
      skipCost: task.skipCost.map((cost) => (cost === Number.POSITIVE_INFINITY ? cost : 0)),
      turnCost: new Float64Array(size).fill(1),
    },
    'auto',
    false,
  );
  if (view.unreachable === Number.POSITIVE_INFINITY) return Number.POSITIVE_INFINITY;
  if (task.present.reduce((sum, there) => sum + there, 0) === 1) return 0;
  const bound = potentialBound(edgePotential(view, rounds));
  return Math.max(0, Math.ceil(bound - ROUNDING));
}

/**
 * Fewest straight pieces (runs of edges of one direction, single nodes included) that partition the present nodes.
 *
 * A partition is a set of edges in which no node has both an east-west and a north-south edge, and has as many pieces
 * as there are nodes less chosen edges. Two edges of different direction that share a node exclude each other: a
 * bipartite graph, whose largest independent set is all edges less a maximum matching (Koenig), found here by
 * Hopcroft and Karp's algorithm.
 */
export function fewestPieces(task: GridTask): number {
  const { nx, east, north } = task;
  const size = task.present.length;
  let nodes = 0;
  let edges = 0;
  for (let v = 0; v < size; v++) {
    nodes += task.present[v];
    edges += east[v] + north[v];
  }
  // Edge v of either direction leads from node v; edge v of `east` meets the north edges v, v + 1 and those below.
  const partners = [0, 1, -nx, 1 - nx];
  const mateOfEast = new Int32Array(size).fill(-1);
  const mateOfNorth = new Int32Array(size).fill(-1);
  const depth = new Int32Array(size);
  const queue = new Int32Array(size);
  const tried = new Uint8Array(size);
  let matched = 0;
  while (layers()) {
    tried.fill(0);
    for (let e = 0; e < size; e++) if (east[e] === 1 && mateOfEast[e] < 0 && augment(e)) matched++;
  }
  return nodes - edges + matched;

  /** Breadth-first depths of the east edges from the free ones; true when a free north edge is in reach. */
  function layers(): boolean {
    depth.fill(-1);
    let count = 0;
    for (let e = 0; e < size; e++) {
      if (east[e] !== 1 || mateOfEast[e] >= 0) continue;
      depth[e] = 0;
      queue[count++] = e;
    }
    let free = false;
    for (let k = 0; k < count; k++) {
      const e = queue[k];
      for (const offset of partners) {
        const f = e + offset;
        if (f < 0 || north[f] !== 1) continue;
        const next = mateOfNorth[f];
        if (next < 0) free = true;
        else if (depth[next] < 0) {
          depth[next] = depth[e] + 1;
          queue[count++] = next;
        }
      }
    }
    return free;
  }

  /** Depth-first search for an augmenting path from east edge `root`, on an explicit stack. */
  function augment(root: number): boolean {
    const stack = [root];
    const chosen: number[] = [];
    tried[root] = 1;
    for (let e = stack.at(-1); e !== undefined; e = stack.at(-1)) {
      let onward = -1;
      for (const offset of partners) {
        const f: number = e + offset;
        if (f < 0 || north[f] !== 1) continue;
        const next = mateOfNorth[f];
        if (next < 0) {
          chosen[stack.length - 1] = f;
          for (let k = 0; k < stack.length; k++) {
            mateOfEast[stack[k]] = chosen[k];
            mateOfNorth[chosen[k]] = stack[k];
          }
          return true;
        }
        if (onward < 0 && tried[next] === 0 && depth[next] === depth[e] + 1) {
          onward = next;
          chosen[stack.length - 1] = f;
        }
      }
      if (onward < 0) stack.pop();
      else {
        tried[onward] = 1;
        stack.push(onward);
      }
    }
    return false;
  }
}
