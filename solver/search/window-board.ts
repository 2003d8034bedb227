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
  const inside = nodesIn(task, box);
  const open = frozenOutside(task, nodes, inside);
  const view = sweepView(open, sweep, false);
  const restricted = restrictedPotential(view, potential);
  return {
    task: open,
    view,
    potential: restricted,
    remainder: new PlainRemainder(view, restricted),
    forced: forcedOutside(view, nodes, inside),
    pairPrice: 0,
  };
}

/** 1 for the nodes in the box. */
function nodesIn({ nx, present }: GridTask, box: Box): Uint8Array {
  const inside = new Uint8Array(present.length);
  for (let y = box.y; y < box.y + box.height; y++) inside.fill(1, y * nx + box.x, y * nx + box.x + box.width);
  return inside;
}

/** The task with every node outside bound to what the route does there. */
function frozenOutside(task: GridTask, nodes: Int32Array, inside: Uint8Array): GridTask {
  const { nx } = task;
  const size = task.present.length;
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
function forcedOutside(view: SweepView, nodes: Int32Array, inside: Uint8Array): Uint8Array {
  const { width, right, down, node } = view;
  const end = nodes[nodes.length - 1];
  const forced = new Uint8Array(node.length);
  for (let t = 0; t < node.length; t++) {
    if (view.present[t] === 0 || inside[node[t]] === 1 || t === view.start || node[t] === end) continue;
    const left = t % width > 0 && right[t - 1] === 1;
    const up = t >= width && down[t - width] === 1;
    if ((left && up) || (left && inside[node[t - 1]] === 1) || (up && inside[node[t - width]] === 1))
      continue;
    forced[t] = 1;
  }
  return forced;
}
