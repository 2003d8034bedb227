import type { MipEngine } from '../engines/port.js';
import type { LengthWindow, PathLength } from '../model/path-length.js';
import type { Cable } from '../problem.js';
import { cornerSaving } from '../problem.js';
import { leastGap } from './lane-choice.js';
import { edgeLengths, type LaneGrid } from './lane-grid.js';
import { mainWindow } from './length-window.js';
import { solveByMip } from './mip-route.js';
import { type LaneRoute, type RouteOptions, withTail } from './route-lanes.js';
import type { ZoneSpace } from './zone-space.js';

export interface LengthOptions
  extends Pick<RouteOptions, 'minGap' | 'wantedTail' | 'maxOutside' | 'mipRounds'> {
  readonly engine: MipEngine;
  readonly seconds: number;
  expired(): boolean;
}

export type LengthFit =
  | {
      readonly kind: 'fitted';
      readonly route: LaneRoute;
      readonly cable: Cable;
      readonly guardFired: boolean;
    }
  | { readonly kind: 'none'; readonly guardFired: boolean };

/**
 * Cable and route decided together by one integer programme on the lanes of `known`: a binary for every cable whose
 * window of main lengths the route may meet. Counts only when it is proven optimal.
 */
export function routeForLength(
  space: ZoneSpace,
  known: LaneRoute,
  cables: readonly Cable[],
  options: LengthOptions,
): LengthFit {
  const { choice, grid, tail } = known;
  const stub = (tail.outside + 1) * space.setting.lattice.pitch;
  const turns = known.route.turns + tail.turns;
  const fitting: { cable: Cable; window: LengthWindow }[] = [];
  for (const cable of cables) {
    if (leastGap(space, cable.minBendRadius) !== choice.minGap) continue;
    const [lower, upper] = mainWindow(space, cable, turns, tail.length);
    if (upper - stub > 0 && lower <= upper)
      fitting.push({ cable, window: { lower: Math.max(0, lower - stub), upper: upper - stub, cost: 0 } });
  }
  if (fitting.length === 0) return { kind: 'none', guardFired: false };
  const solved = solveByMip(grid.task, options.engine, {
    maxNodes: Infinity,
    maxRounds: options.mipRounds,
    seconds: options.seconds,
    length: gridLength(
      space,
      grid,
      fitting.map(({ window }) => window),
    ),
    expired: options.expired,
  });
  if (solved.kind !== 'route' || !solved.proven || solved.cable === undefined)
    return { kind: 'none', guardFired: solved.guardFired };
  const route = withTail(
    space,
    choice,
    grid,
    { route: solved, method: options.engine.name, swept: true, copied: known.copied, guardFired: false },
    options,
  );
  return route
    ? { kind: 'fitted', route, cable: fitting[solved.cable].cable, guardFired: false }
    : { kind: 'none', guardFired: false };
}

function gridLength(space: ZoneSpace, grid: LaneGrid, windows: readonly LengthWindow[]): PathLength {
  const { east, north } = edgeLengths(grid, space.s);
  return { eastLength: east, northLength: north, cornerSaving: cornerSaving(space.setting.lattice), windows };
}
