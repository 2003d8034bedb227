import { describe, expect, it } from 'vitest';
import { measureRoute } from '../../../solver/model/grid-cost.js';
import { RouteLinks } from '../../../solver/search/route-links.js';
import { stepsOf } from '../../../solver/search/steps.js';
import { gridTask } from '../../helpers/grid-tasks.js';

const NX = 6;
const STEP = 0.7;
/** Along the lowest row, over to the next by a step, to its end, and up. */
const ROUTE = [0, 1, 2, 8, 9, 10, 11, 17];

describe('a route as links', () => {
  // Definition: what the route costs after the change, measured anew, less what it cost before.
  it.each([
    ['two nodes taken in', [0, 1, 2, 8, 14, 15, 9, 10, 11, 17], 8],
    ['a corner moved', [0, 1, 2, 3, 9, 10, 11, 17], 2],
    ['a corner moved back', [0, 1, 7, 8, 9, 10, 11, 17], 1],
  ])('%s: costs what routes measured before and after differ by, and twice is nothing', (_, after, low) => {
    const task = gridTask(NX, 3, { skip: 3, turn: 1 });
    task.eastCost.fill(0.1);
    task.northCost.fill(0.2);
    const links = new RouteLinks(task, ROUTE, STEP);
    const whole = (nodes: number[]) => measureRoute(task, nodes).cost + STEP * stepsOf(nodes);
    expect(links.isSquare(low)).toBe(true);
    const cost = links.flipCost(low);
    expect(cost).toBeCloseTo(whole(after) - whole(ROUTE), 9);
    expect(links.flipCost(low)).toBe(cost);
    links.flip(low);
    expect(links.flipCost(low)).toBeCloseTo(-cost, 9);
  });

  it('a flip clearly dearer than asked for is not looked at further', () => {
    const links = new RouteLinks(gridTask(NX, 3, { skip: 0, turn: 100 }), ROUTE, STEP);
    expect(links.flipCost(8, 1)).toBe(Infinity);
    expect(links.flipCost(8)).toBeGreaterThan(100);
  });
});
