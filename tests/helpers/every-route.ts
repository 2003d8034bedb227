import { hasEdge, verifyRoute } from '../../solver/model/grid-cost.js';
import type { GridTask } from '../../solver/model/grid-task.js';

/** Every legal route of a small task, by walking every simple path from the start. */
export function everyRoute(task: GridTask): number[][] {
  const routes: number[][] = [];
  const path: number[] = [];
  const walk = (v: number): void => {
    path.push(v);
    if (verifyRoute(task, path) === null) routes.push([...path]);
    for (const u of [v - task.nx, v - 1, v + 1, v + task.nx]) {
      if (u >= 0 && u < task.present.length && hasEdge(task, u, v) && !path.includes(u)) walk(u);
    }
    path.pop();
  };
  walk(task.start);
  return routes;
}
