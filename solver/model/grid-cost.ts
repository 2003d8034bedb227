import type { GridTask } from './grid-task.js';

export interface RouteMeasure {
  /** Objective of the task: skipped nodes + corners + edges used + end. */
  readonly cost: number;
  readonly turns: number;
  readonly skipped: number;
}

/** True when u and v are joined by an edge of the task. */
export function hasEdge(task: GridTask, u: number, v: number): boolean {
  const low = Math.min(u, v);
  const gap = Math.abs(u - v);
  if (gap === 1 && task.east[low] === 1) return low % task.nx < task.nx - 1;
  return gap === task.nx && task.north[low] === 1;
}

/**
 * Cost, corners and skipped nodes of `nodes` (start to end). Meaningful only for a route that `verifyRoute` accepts;
 * the sums run in node order, so equal routes give bit-equal costs.
 */
export function measureRoute(task: GridTask, nodes: ArrayLike<number>): RouteMeasure {
  const { nx } = task;
  const visited = new Uint8Array(task.present.length);
  let turns = 0;
  let path = 0;
  for (let k = 0; k < nodes.length; k++) {
    const v = nodes[k];
    visited[v] = 1;
    if (k + 1 >= nodes.length) continue;
    const next = nodes[k + 1];
    const low = Math.min(v, next);
    path += isHorizontal(v, next, nx) ? task.eastCost[low] : task.northCost[low];
    if (k > 0 && isHorizontal(nodes[k - 1], v, nx) !== isHorizontal(v, next, nx)) {
      turns++;
      path += task.turnCost[v];
    }
  }
  let skipped = 0;
  let cost = path + task.endCost[nodes[nodes.length - 1]];
  for (let v = 0; v < visited.length; v++) {
    if (task.present[v] === 1 && visited[v] === 0) {
      skipped++;
      cost += task.skipCost[v];
    }
  }
  return { cost, turns, skipped };
}

/** Objective of a legal route; see `measureRoute`. */
export function routeCost(task: GridTask, nodes: ArrayLike<number>): number {
  return measureRoute(task, nodes).cost;
}

/** Null when `nodes` is a legal route of the task, else what is wrong with it. */
export function verifyRoute(task: GridTask, nodes: ArrayLike<number>): string | null {
  const count = nodes.length;
  if (count === 0) return 'the route is empty';
  if (nodes[0] !== task.start) return `the route begins at ${nodes[0]}, not at the start ${task.start}`;
  const visited = new Uint8Array(task.present.length);
  for (let k = 0; k < count; k++) {
    const v = nodes[k];
    if (task.present[v] !== 1) return `node ${v} does not exist`;
    if (visited[v] === 1) return `node ${v} is visited twice`;
    visited[v] = 1;
    if (k > 0 && !hasEdge(task, nodes[k - 1], v)) return `no edge between ${nodes[k - 1]} and ${v}`;
    if (k > 0 && k + 1 < count && task.endOnly[v] === 1) return `node ${v} may only be the end`;
  }
  const last = nodes[count - 1];
  if (task.endCost[last] === Number.POSITIVE_INFINITY) return `the route may not end at ${last}`;
  let present = 0;
  for (let v = 0; v < visited.length; v++) {
    if (task.present[v] !== 1) continue;
    present++;
    if (visited[v] === 0 && task.skipCost[v] === Number.POSITIVE_INFINITY) return `node ${v} must be visited`;
  }
  if (count === 1 && present > 1) return 'the start may be the end only when it is the only node';
  return null;
}

function isHorizontal(u: number, v: number, nx: number): boolean {
  return Math.abs(u - v) === 1 && nx > 1;
}
