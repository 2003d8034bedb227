import { turnBound } from './bounds/turns.js';
import { fewestTurnsAtLength } from './bounds/turns-at-length.js';
import type { ZonePlan } from './plan-types.js';
import { type Cable, cornerSaving } from './problem.js';
import { edgeLengths } from './search/lane-grid.js';
import { mainWindow } from './search/length-window.js';
import type { LaneRoute } from './search/route-lanes.js';
import type { ZoneSpace } from './search/zone-space.js';

/** Rounds of ascent at least and at most, and the share of them for each price of length tried. */
const LEAST_ROUNDS = 60;
const MOST_ROUNDS = 2000;
const PRICE_SHARE = 1 / 4;

/** Bounds on the turns of routes over the lane-grid nodes that this one visits; `work`: nodes times rounds of ascent. */
export function routeTurnBound(
  space: ZoneSpace,
  cable: Cable,
  { grid, route, main, tail }: LaneRoute,
  work: number,
): NonNullable<ZonePlan['turnBound']> {
  const { task } = grid;
  const present = new Uint8Array(task.present.length);
  for (const v of route.nodes) present[v] = 1;
  const both = (edges: Uint8Array, step: number) =>
    edges.map((e, v) => e & present[v] & (present[v + step] ?? 0));
  const visited = {
    ...task,
    present,
    east: both(task.east, 1),
    north: both(task.north, task.nx),
  };
  const rounds = Math.round(Math.min(MOST_ROUNDS, Math.max(LEAST_ROUNDS, work / route.nodes.length)));
  const { pieces, turns } = turnBound(visited, rounds);
  if (turns >= route.turns) return { pieces, turns, atLength: turns, route: route.turns };
  const { lattice, spacing } = space.setting;
  const { east, north } = edgeLengths(grid, space.s);
  const saving = cornerSaving(lattice);
  let own = -route.turns * saving;
  for (let k = 1; k < route.nodes.length; k++) {
    const low = Math.min(route.nodes[k - 1], route.nodes[k]);
    own += task.nx > 1 && Math.abs(route.nodes[k] - route.nodes[k - 1]) === 1 ? east[low] : north[low];
  }
  // With fewer turns the end has less play. From the last node to the buffer it is as far as the search allows at most.
  const [low, high] = mainWindow(space, cable, turns, tail.length);
  const beyond = Math.max(main - own, lattice.pitch * (spacing.max + 1));
  const condition = {
    east,
    north,
    cornerSaving: saving,
    least: Math.min(own, low - beyond),
    most: Math.max(own, high),
  };
  const priced = Math.ceil(rounds * PRICE_SHARE);
  const atLength = Math.max(turns, fewestTurnsAtLength(visited, condition, priced));
  return { pieces, turns, atLength, route: route.turns };
}
