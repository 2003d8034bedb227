import { describe, expect, it } from 'vitest';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { edgePotential, potentialBound } from '../../../solver/search/frontier-potential.js';
import { sweepView } from '../../../solver/search/frontier-view.js';
import { routeSlack } from '../../../solver/search/route-slack.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

describe('what the nodes of a route pay too much', () => {
  it('is never negative and adds up to the gap between cost and bound', () => {
    const random = seeded(31);
    let routes = 0;
    for (let k = 0; k < 800; k++) {
      const task = randomGridTask(random, 6, 30);
      const route = solveFrontier(task, { maxStates: 3 });
      if (route.kind !== 'route' || route.nodes.length < 2) continue;
      const view = sweepView(task, 'rows', false);
      const potential = edgePotential(view, 30);
      const slack = routeSlack(task, route.nodes, potential);
      const gap = route.cost - view.unreachable - potentialBound(potential);
      expect(
        slack.reduce((sum, x) => sum + x, 0),
        `task ${k}`,
      ).toBeCloseTo(gap, 5);
      expect(Math.min(...slack), `task ${k}`).toBeGreaterThan(-1e-6);
      routes++;
    }
    expect(routes).toBeGreaterThan(200);
  });

  it('is nothing on a straight line', () => {
    const task = gridTask(7, 1);
    const potential = edgePotential(sweepView(task, 'rows', false), 60);
    const slack = routeSlack(task, [0, 1, 2, 3, 4, 5, 6], potential);
    expect(Math.max(...slack)).toBeLessThan(1e-3);
  });
});
