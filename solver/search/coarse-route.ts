import { measureRoute } from '../model/grid-cost.js';
import type { GridTask } from '../model/grid-task.js';
import { solveFrontier } from './frontier.js';
import { Potentials } from './frontier-potential.js';

/** Lanes of one axis in groups of alike ones, by index of the first of each group; the last entry is the number of lanes. */
export type Groups = readonly number[];

/** Fewest lanes kept of a group, or one more where the parity asks for it. */
const LEAST_KEPT = 2;

/** A copy more than so many times as large as asked for is swept with such a share of the states: it would take too long. */
const LARGE = 2;
const LARGE_SHARE = 1 / 2;

/** Rounds of the ascent on a coarse grid. */
const ROUNDS = 40;

export interface CoarseOptions {
  /** Nodes of the coarse grid, roughly. */
  readonly nodes: number;
  /** Beam of the sweep along its rows and of that along its columns. */
  readonly maxStates: number;
}

/**
 * Routes over a grid found on a coarse copy of it: of neighbouring lanes that are alike pairs are left out, and each
 * pair is put back by running three lanes where the route ran one. That adds four turns a run and none where the route
 * only crosses the lane, so the lane with the fewest runs is taken. What a route over the copy costs beyond the fewest
 * turns is therefore about what it costs on the full grid. Node numbers from start to end; null where no lanes are alike
 * or no route was found.
 */
export function coarseRoute(task: GridTask, { nodes, maxStates }: CoarseOptions): Int32Array | null {
  const groups = { rows: alike(task, 'rows'), columns: alike(task, 'columns') };
  const share = Math.sqrt(nodes / (task.nx * task.ny));
  const rows = kept(groups.rows, share);
  const columns = kept(groups.columns, share);
  if (rows.length === task.ny && columns.length === task.nx) return null;
  const small = copyOf(task, rows, columns);
  const large = rows.length * columns.length > LARGE * nodes;
  const states = large ? Math.ceil(LARGE_SHARE * maxStates) : maxStates;
  const potentials = new Potentials(small);
  let best: Int32Array | null = null;
  let least = Infinity;
  for (const sweep of ['rows', 'columns'] as const) {
    const found = solveFrontier(small, { maxStates: states, rounds: ROUNDS, sweep, potentials });
    if (found.kind !== 'route') continue;
    const full = expand(task, found.nodes, { rows, columns }, groups);
    const cost = full ? measureRoute(task, full).cost : Infinity;
    if (cost >= least) continue;
    least = cost;
    best = full;
  }
  return best;
}

/** Neighbouring lanes are alike when the same nodes, edges and ends lie along both and all edges between them exist. */
function alike(task: GridTask, axis: 'rows' | 'columns'): Groups {
  const { nx, ny, present, east, north, endCost, start } = task;
  const rows = axis === 'rows';
  const count = rows ? ny : nx;
  const long = rows ? nx : ny;
  const node = (k: number, i: number) => (rows ? k * nx + i : i * nx + k);
  const [along, between] = rows ? [east, north] : [north, east];
  const own = rows ? Math.floor(start / nx) : start % nx;
  const firsts = [0];
  for (let k = 1; k < count; k++) {
    let same = k !== own && k - 1 !== own;
    for (let i = 0; same && i < long; i++) {
      const [v, w] = [node(k - 1, i), node(k, i)];
      same =
        present[v] === present[w] &&
        along[v] === along[w] &&
        between[v] === present[v] &&
        (endCost[v] === Infinity) === (endCost[w] === Infinity);
    }
    if (!same) firsts.push(k);
  }
  return [...firsts, count];
}

/** Lanes that a copy keeps: of each group such a share, as many as keep its parity, half of them from either end. */
export function kept(groups: Groups, share: number): number[] {
  const lanes: number[] = [];
  for (let g = 0; g + 1 < groups.length; g++) {
    const count = groups[g + 1] - groups[g];
    const wanted = Math.max(LEAST_KEPT, Math.round(count * share));
    const few = Math.min(count, wanted + ((wanted - count) & 1));
    const first = Math.ceil(few / 2);
    for (let k = 0; k < first; k++) lanes.push(groups[g] + k);
    for (let k = few - first; k > 0; k--) lanes.push(groups[g + 1] - k);
  }
  return lanes;
}

function copyOf(task: GridTask, rows: readonly number[], columns: readonly number[]): GridTask {
  const nx = columns.length;
  const ny = rows.length;
  const size = nx * ny;
  const copy = {
    nx,
    ny,
    present: new Uint8Array(size),
    east: new Uint8Array(size),
    north: new Uint8Array(size),
    eastCost: new Float64Array(size),
    northCost: new Float64Array(size),
    start: -1,
    endCost: new Float64Array(size),
    endOnly: new Uint8Array(size),
    skipCost: new Float64Array(size),
    turnCost: new Float64Array(size),
  };
  /** Whether lanes left out between two of the copy are joined as these are: they are alike. */
  const isJoined = (edges: Uint8Array, v: number, step: number, lanes: number): number => {
    for (let k = 0, w = v; k < lanes; k++, w += step) if (edges[w] === 0) return 0;
    return 1;
  };
  for (let j = 0, n = 0; j < ny; j++)
    for (let i = 0; i < nx; i++, n++) {
      const v = rows[j] * task.nx + columns[i];
      if (v === task.start) copy.start = n;
      copy.present[n] = task.present[v];
      if (i + 1 < nx) copy.east[n] = isJoined(task.east, v, 1, columns[i + 1] - columns[i]);
      if (j + 1 < ny) copy.north[n] = isJoined(task.north, v, task.nx, rows[j + 1] - rows[j]);
      copy.eastCost[n] = task.eastCost[v];
      copy.northCost[n] = task.northCost[v];
      copy.endCost[n] = task.endCost[v];
      copy.endOnly[n] = task.endOnly[v];
      copy.skipCost[n] = task.skipCost[v];
      copy.turnCost[n] = task.turnCost[v];
    }
  return copy;
}

/** A path as places along and across the lanes that are put back: step n is at `along[n]` on lane `lane[n]`. */
interface Walk {
  along: Int32Array;
  lane: Int32Array;
  length: number;
}

const walkWithin = (steps: number): Walk => ({
  along: new Int32Array(steps),
  lane: new Int32Array(steps),
  length: 0,
});

function expand(
  task: GridTask,
  nodes: Int32Array,
  copy: { readonly rows: readonly number[]; readonly columns: readonly number[] },
  groups: { readonly rows: Groups; readonly columns: Groups },
): Int32Array | null {
  const nx = copy.columns.length;
  let now = walkWithin(task.nx * task.ny);
  now.length = nodes.length;
  for (let n = 0; n < nodes.length; n++) {
    now.along[n] = nodes[n] % nx;
    now.lane[n] = Math.floor(nodes[n] / nx);
  }
  let spare = walkWithin(task.nx * task.ny);
  for (const axis of ['rows', 'columns'] as const) {
    const long = axis === 'rows' ? nx : task.ny;
    for (const [first, from, to] of leftOut(copy[axis], groups[axis]))
      for (let count = from; count < to; count += 2) {
        const lane = fewestRuns(now, first, first + count, long);
        if (lane < 0) return null;
        threefold(now, spare, lane);
        [now, spare] = [spare, now];
      }
    now = { along: now.lane, lane: now.along, length: now.length };
  }
  const full = new Int32Array(now.length);
  for (let n = 0; n < full.length; n++) full[n] = now.lane[n] * task.nx + now.along[n];
  return full;
}

/**
 * Per group its first lane, how many lanes the copy has of it and how many there are. The lanes of the groups before are
 * all back when its turn comes, so it begins at its own first lane.
 */
const leftOut = (lanes: readonly number[], groups: Groups): [first: number, few: number, all: number][] =>
  groups.slice(0, -1).map((first, g) => {
    const end = groups[g + 1];
    return [first, lanes.filter((k) => k >= first && k < end).length, end - first];
  });

/** The lane of those from `first` up to `end` that is the cheapest to run thrice; -1 where none can be. */
function fewestRuns(walk: Walk, first: number, end: number, long: number): number {
  const cost = runsOf(walk, first, end, long);
  let best = -1;
  for (let k = first; k < end; k++)
    if (cost[k - first] < (best < 0 ? Infinity : cost[best - first])) best = k;
  return best;
}

/**
 * What running each lane from `first` up to `end` thrice costs: turns of its runs, and more for each place on it that the
 * walk leaves out. Infinity where the walk has no run on it, or begins or ends there.
 */
function runsOf({ lane, length }: Walk, first: number, end: number, long: number): Float64Array {
  const cost = new Float64Array(end - first).fill(Infinity);
  const last = length - 1;
  for (let n = 0; n <= last; ) {
    const k = lane[n];
    let m = n;
    while (m < last && lane[m + 1] === k) m++;
    if (k >= first && k < end) {
      const c = k - first;
      if (cost[c] === Infinity) cost[c] = 2 * long;
      cost[c] -= 2 * (m - n + 1);
      const tip = m === n + 1 && n > 0 && m < last && lane[n - 1] === lane[m + 1];
      if (m > n && !tip) cost[c] += 4;
    }
    n = m + 1;
  }
  for (const terminal of [lane[0], lane[last]])
    if (terminal >= first && terminal < end) cost[terminal - first] = Infinity;
  return cost;
}

/** `out` becomes the walk with lane k run thrice, on k, k + 1 and k + 2; lanes above move up. */
function threefold({ along, lane, length }: Walk, out: Walk, k: number): void {
  let count = 0;
  const put = (at: number, on: number) => {
    out.along[count] = at;
    out.lane[count++] = on;
  };
  const run = (from: number, to: number, on: number) => {
    const step = Math.sign(to - from);
    for (let at = from; at !== to; at += step) put(at, on);
    put(to, on);
  };
  for (let n = 0; n < length; n++) {
    if (lane[n] !== k) {
      put(along[n], lane[n] > k ? lane[n] + 2 : lane[n]);
      continue;
    }
    let m = n;
    while (m + 1 < length && lane[m + 1] === k) m++;
    const [a, b] = [along[n], along[m]];
    const fromBelow = lane[n - 1] < k;
    const toBelow = lane[m + 1] < k;
    // Lanes as the walk meets them.
    const [near, mid, far] = fromBelow ? [k, k + 1, k + 2] : [k + 2, k + 1, k];
    if (a === b) for (const on of [near, mid, far]) put(a, on);
    else if (fromBelow !== toBelow) {
      run(a, b, near);
      run(b, a, mid);
      run(a, b, far);
    } else {
      const step = Math.sign(b - a);
      for (const on of [near, mid]) put(a, on);
      run(a, b, far);
      if (b === a + step) for (const on of [mid, near]) put(b, on);
      else {
        run(b, a + step, mid);
        run(a + step, b, near);
      }
    }
    n = m;
  }
  out.length = count;
}
