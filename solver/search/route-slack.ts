import type { GridTask } from '../model/grid-task.js';
import type { Potential } from './frontier-potential.js';

/**
 * What each node pays along a route beyond the least it could pay by the potentials, which are those of a forward sweep
 * by rows; 0 or more each, and in all what lies between the route's cost and the potentials' bound. A route that differs
 * only inside a set of nodes is cheaper by no more than what these pay beyond their least.
 */
export function routeSlack(task: GridTask, nodes: ArrayLike<number>, potential: Potential): Float64Array {
  const { nx } = task;
  const { right, down, restFrom, skipExtra, endExtra } = potential;
  const slack = new Float64Array(task.present.length);
  for (let v = 0; v < slack.length; v++) if (Number.isFinite(skipExtra[v])) slack[v] = skipExtra[v];
  const leastEnd = endExtra.reduce((least, extra) => Math.min(least, extra), Number.POSITIVE_INFINITY);
  const last = nodes.length - 1;
  /** What node v pays for its edge to node w. */
  const pay = (v: number, w: number): number => {
    if (w === v + 1 && nx > 1) return task.eastCost[v] + right[v];
    if (w === v - 1 && nx > 1) return -right[w];
    return w > v ? task.northCost[v] + down[v] : -down[w];
  };
  for (let k = 0; k <= last; k++) {
    const v = nodes[k];
    let paid = restFrom[v + 1] - restFrom[v];
    if (k > 0) paid += pay(v, nodes[k - 1]);
    if (k < last) paid += pay(v, nodes[k + 1]);
    if (k === last) paid += task.endCost[v] - leastEnd;
    else if (k > 0 && Math.abs(nodes[k + 1] - v) !== Math.abs(v - nodes[k - 1])) paid += task.turnCost[v];
    slack[v] = paid;
  }
  return slack;
}
