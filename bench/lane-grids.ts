import { areaOf, intersect, tube } from '../solver/geometry/region.js';
import { chooseOrigin } from '../solver/lattice/choose-origin.js';
import { nodePoint } from '../solver/lattice/stud-lattice.js';
import { heatRadius, type Setting } from '../solver/problem.js';
import { solveFrontier } from '../solver/search/frontier.js';
import type { LaneChoice } from '../solver/search/lane-choice.js';
import { type LaneGrid, laneGrid, studsOfRoute } from '../solver/search/lane-grid.js';
import { LaneScout } from '../solver/search/lane-scout.js';
import { mouthsOf } from '../solver/search/mouths.js';
import { type ZoneSpace, zoneSpace } from '../solver/search/zone-space.js';
import { requestOf } from './room-request.js';
import type { BenchRoom } from './room-set.js';

/** One lane grid of a room, on which methods can be set side by side. */
export interface RoomGrid {
  readonly space: ZoneSpace;
  readonly choice: LaneChoice;
  readonly grid: LaneGrid;
  /** Nodes of the grid. */
  readonly nodes: number;
  /** Lanes across the narrow side. */
  readonly width: number;
}

/** Lane choices looked at with a narrow beam before one is taken. */
const LOOKS = 6;
const LOOK_STATES = 60;
const PARITY_WORK = 200_000;

/** The lanes the planner's own screening likes best for the room, or null where none of its first few can be routed. */
export function gridOf(room: BenchRoom): RoomGrid | null {
  const request = requestOf(room, 'quick');
  const { pitch } = request.lattice;
  const setting: Setting = {
    lattice: { pitch, origin: chooseOrigin([room.zone], pitch) },
    spacing: request.spacing,
    placementSlopPerTurn: request.placementSlopPerTurn,
  };
  const space = zoneSpace(room.zone, setting);
  const mouths = mouthsOf(space, request.spacing.max + 1);
  const scout = new LaneScout(space, mouths, request.turnWeight, room.catalogue);
  let best: RoomGrid | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < LOOKS; k++) {
    const next = scout.next(room.catalogue, LOOK_STATES, PARITY_WORK);
    if (next === null) break;
    const { choice } = next;
    const rows = choice.axis === 'rows';
    const grid = laneGrid(space.s, space.floor, {
      columns: rows ? choice.cross.lanes : choice.main.lanes,
      rows: rows ? choice.main.lanes : choice.cross.lanes,
      usable: space.usable,
      mouths,
      start: space.start,
      turnWeight: request.turnWeight,
      heatRadius: space.heatRadius,
      sums: space.sums,
    });
    if (grid === null) continue;
    const look = solveFrontier(grid.task, { maxStates: LOOK_STATES, sweep: choice.axis });
    if (look.kind !== 'route' || look.cost + choice.main.cold >= least) continue;
    least = look.cost + choice.main.cold;
    const nodes = grid.task.present.reduce((sum, there) => sum + there, 0);
    best = { space, choice, grid, nodes, width: Math.min(grid.task.nx, grid.task.ny) };
  }
  return best;
}

/** Share of the target area that a route over the lanes heats by itself, without a last stretch in the buffer. */
export function routeCoverage({ space, grid }: RoomGrid, route: Int32Array): number {
  const path = studsOfRoute(grid, space.s, route).map((v) => nodePoint(space.s, v));
  const total = areaOf(space.target);
  return total === 0 ? 1 : areaOf(intersect(tube(path, heatRadius(space.setting)), space.target)) / total;
}
