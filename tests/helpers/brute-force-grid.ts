import { hasEdge, measureRoute } from '../../solver/model/grid-cost.js';
import type { GridTask } from '../../solver/model/grid-task.js';

export interface BruteForceResult {
  /** Infinity when no route exists. */
  readonly cost: number;
  readonly nodes: readonly number[];
  /** Fewest turns among the routes that visit every node; Infinity when there is none. */
  readonly fewestTurns: number;
  /** Routes that visit every node. */
  readonly covering: number;
}

/** Walks every simple path from the start; for grids of some 20 nodes. */
export function bruteForce(task: GridTask): BruteForceResult {
  const size = task.present.length;
  const neighbours = Array.from({ length: size }, (_, v) =>
    [v - task.nx, v - 1, v + 1, v + task.nx].filter((u) => u >= 0 && u < size && hasEdge(task, u, v)),
  );
  const total = task.present.reduce((sum, there) => sum + there, 0);
  const visited = new Uint8Array(size);
  const path: number[] = [];
  let cost = Number.POSITIVE_INFINITY;
  let nodes: number[] = [];
  let fewestTurns = Number.POSITIVE_INFINITY;
  let covering = 0;
  const walk = (v: number): void => {
    visited[v] = 1;
    path.push(v);
    if (task.endCost[v] !== Number.POSITIVE_INFINITY && (path.length > 1 || total === 1)) {
      const measure = measureRoute(task, path);
      if (measure.cost < cost) {
        cost = measure.cost;
        nodes = [...path];
      }
      if (path.length === total) {
        covering++;
        fewestTurns = Math.min(fewestTurns, measure.turns);
      }
    }
    if (path.length === 1 || task.endOnly[v] !== 1) {
      for (const u of neighbours[v]) if (visited[u] === 0) walk(u);
    }
    path.pop();
    visited[v] = 0;
  };
  walk(task.start);
  return { cost, nodes, fewestTurns, covering };
}
