import type { GridTask } from '../model/grid-task.js';
import { type Potential, restrictedPotential } from './frontier-potential.js';
import { PlainRemainder } from './frontier-remainder.js';
import type { Board } from './frontier-sweep.js';
import { type SweepView, sweepView } from './frontier-view.js';

/** Columns x .. x + width - 1 and rows y .. y + height - 1 of a grid. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The board of a sweep over the task that may change a legal route inside the box only. `potential`: that of the task. */
export function windowBoard(
  task: GridTask,
  nodes: Int32Array,
  box: Box,
  sweep: 'rows' | 'columns',
  potential: Potential,
): Board {
  const open = frozenOutside(task, nodes, box);
  const view = sweepView(open, sweep, false);
  const restricted = restrictedPotential(view, potential);
  return {
    task: open,
    view,
    potential: restricted,
    remainder: new PlainRemainder(view, restricted),
    forced: forcedOutside(task, view, nodes, box),
    pairPrice: 0,
  };
}

/** The task with every node outside the box bound to what the route does there. */
function frozenOutside(task: GridTask, nodes: Int32Array, box: Box): GridTask {
  const { nx } = task;
  const size = task.present.length;
  const inside = new Uint8Array(size);
  for (let y = box.y; y < box.y + box.height; y++) {
    inside.fill(1, y * nx + box.x, y * nx + box.x + box.width);
  }
  const east = new Uint8Array(size);
  const north = new Uint8Array(size);
  const endCost = task.endCost.slice();
  const skipCost = task.skipCost.slice();
  for (let v = 0; v < size; v++) {
    if (inside[v] === 0) endCost[v] = Number.POSITIVE_INFINITY;
    else {
      east[v] = task.east[v] & inside[v + 1];
      north[v] = v + nx < size ? task.north[v] & inside[v + nx] : 0;
    }
  }
  for (let k = 0; k < nodes.length; k++) {
    const v = nodes[k];
    if (inside[v] === 0) skipCost[v] = Number.POSITIVE_INFINITY;
    if (k + 1 === nodes.length) continue;
    const low = Math.min(v, nodes[k + 1]);
    if (Math.abs(v - nodes[k + 1]) === 1 && nx > 1) east[low] = 1;
    else north[low] = 1;
  }
  const last = nodes[nodes.length - 1];
  if (inside[last] === 0) {
    endCost.fill(Number.POSITIVE_INFINITY);
    endCost[last] = task.endCost[last];
  }
  return { ...task, east, north, endCost, skipCost };
}

/**
 * 1 for cells outside the box at which every state of a sweep does alike: it follows the route, or skips. Not for the
 * route's ends, nor where pieces of path are joined or a cell of the box may fail to use the edge that leads here.
 */
function forcedOutside({ nx }: GridTask, view: SweepView, nodes: Int32Array, box: Box): Uint8Array {
  const { width, right, down, node } = view;
  const size = node.length;
  const outside = new Uint8Array(size);
  for (let t = 0; t < size; t++) {
    const x = node[t] % nx;
    const y = (node[t] - x) / nx;
    if (x < box.x || x >= box.x + box.width || y < box.y || y >= box.y + box.height) outside[t] = 1;
  }
  const end = nodes[nodes.length - 1];
  const forced = new Uint8Array(size);
  for (let t = 0; t < size; t++) {
    if (view.present[t] === 0 || outside[t] === 0 || t === view.start || node[t] === end) continue;
    const left = t % width > 0 && right[t - 1] === 1;
    const up = t >= width && down[t - width] === 1;
    if ((left && up) || (left && outside[t - 1] === 0) || (up && outside[t - width] === 0)) continue;
    forced[t] = 1;
  }
  return forced;
}
