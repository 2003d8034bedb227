import { measureRoute, verifyRoute } from '../model/grid-cost.js';
import type { GridRoute } from '../model/grid-task.js';
import { edgePotential, potentialBound } from './frontier-potential.js';
import { sweepView } from './frontier-view.js';
import {
  type AxisLanes,
  crossingCount,
  expectedLength,
  type LaneChoice,
  type RunAxis,
} from './lane-choice.js';
import type { LaneGrid } from './lane-grid.js';
import { pricedLanes } from './lane-shift.js';
import type { LaneSet } from './lanes.js';
import type { Mouths } from './mouths.js';
import { type GridFind, gridOfChoice, type LaneRoute } from './route-lanes.js';
import type { ZoneSpace } from './zone-space.js';

/** Prices of length tried at most. */
const PRICES = 26;
/** What lanes cost closer than this counts as equal, mm2. */
const ROUNDING = 1e-3;
/** Highest price, mm2 of cold floor a mm. */
const DEAREST = 400;

/** Rounds of the ascent behind the bound of a moved grid. */
const ROUNDS = 60;

/** Lanes of both axes, and how much longer (mm, corners not counted) the same route is on them. */
export interface Stretched {
  readonly rows: LaneSet;
  readonly columns: LaneSet;
  readonly longer: number;
  /** Cold floor and uneven gaps, mm2. */
  readonly cost: number;
}

/**
 * Moves the lanes of a choice so that the same route over them gets longer by `least`..`most` mm (negative: shorter),
 * and as little floor as possible goes cold. The route's length is linear in the gaps between lanes: a gap that many of
 * its pieces cross is worth many mm a stud. Every lane stays between the breaks it was between, so that the route stays
 * possible where walls alone decide; thinned lanes stay where they are. Null where the gaps do not yield that much.
 */
export function stretchLanes(
  choice: LaneChoice,
  { grid, route }: { readonly grid: LaneGrid; readonly route: GridRoute },
  lanes: { readonly rows: AxisLanes; readonly columns: AxisLanes },
  pitch: number,
  [least, most]: readonly [number, number],
): Stretched | null {
  const crossed = crossings(grid.task.nx, grid.task.ny, route.nodes);
  const before = {
    rows: choice.axis === 'rows' ? choice.main : choice.cross,
    columns: choice.axis === 'rows' ? choice.cross : choice.main,
  };
  const span = (set: LaneSet, pieces: Int32Array): number => {
    let sum = 0;
    for (let k = 0; k < pieces.length; k++) sum += pieces[k] * (set.lanes[k + 1] - set.lanes[k]);
    return sum * pitch;
  };
  const now = span(before.rows, crossed.rows) + span(before.columns, crossed.columns);
  const at = (price: number): Stretched | null => {
    const moved = (axis: RunAxis) =>
      choice.thinning && axis === choice.axis
        ? { ...before[axis], cost: before[axis].cold }
        : pricedLanes(lanes[axis], before[axis], crossed[axis], price * pitch);
    const [rows, columns] = [moved('rows'), moved('columns')];
    if (!rows || !columns) return null;
    const longer = span(rows, crossed.rows) + span(columns, crossed.columns) - now;
    return { rows, columns, longer, cost: rows.cost + columns.cost };
  };
  const fits = ({ longer }: Stretched) => longer >= least && longer <= most;
  const plain = at(0);
  if (!plain || fits(plain)) return plain;
  // A higher price makes the route shorter.
  const farthest = at(plain.longer > most ? DEAREST : -DEAREST);
  if (!farthest || (plain.longer > most ? farthest.longer > most : farthest.longer < least)) return null;
  // Between two prices only the one at which their lanes cost the same can have others that cost less.
  let best = fits(farthest) ? farthest : null;
  let [near, far] = [plain, farthest];
  for (let k = 0; k < PRICES; k++) {
    const price = (far.cost - near.cost) / (near.longer - far.longer);
    const found = at(price);
    if (!found) return null;
    const cheaper = found.cost + price * found.longer < near.cost + price * near.longer - ROUNDING;
    if (fits(found) && (!best || found.cost < best.cost)) best = found;
    if (!cheaper) break;
    if (plain.longer > most ? found.longer > most : found.longer < least) near = found;
    else far = found;
  }
  return best;
}

/** The same route over lanes moved like that; null where they do not yield it or the route is not possible on them. */
export function stretchRoute(
  space: ZoneSpace,
  laid: Pick<LaneRoute, 'choice' | 'grid' | 'route' | 'copied'>,
  lanes: { readonly rows: AxisLanes; readonly columns: AxisLanes },
  mouths: Mouths,
  turnWeight: number,
  longer: readonly [number, number],
): { choice: LaneChoice; grid: LaneGrid; find: GridFind } | null {
  const moved = stretchLanes(laid.choice, laid, lanes, space.setting.lattice.pitch, longer);
  if (!moved) return null;
  const [main, cross] =
    laid.choice.axis === 'rows' ? [moved.rows, moved.columns] : [moved.columns, moved.rows];
  const choice = {
    ...laid.choice,
    main,
    cross,
    nodes: crossingCount(space, moved.rows, moved.columns),
    expected: laid.choice.thinning ? laid.choice.expected + moved.longer : expectedLength(space, main),
  };
  const grid = gridOfChoice(space, choice, mouths, turnWeight);
  if (!grid || verifyRoute(grid.task, laid.route.nodes) !== null) return null;
  const measure = measureRoute(grid.task, laid.route.nodes);
  const bound = potentialBound(edgePotential(sweepView(grid.task, 'auto', false), ROUNDS));
  const route: GridRoute = {
    ...laid.route,
    ...measure,
    bound: Math.min(bound, measure.cost),
    proven: false,
    work: 0,
  };
  return {
    choice,
    grid,
    find: { route, method: 'frontier', swept: false, copied: laid.copied, guardFired: false },
  };
}

/** How many pieces of the route cross the gap behind each row, and behind each column. */
function crossings(nx: number, ny: number, nodes: Int32Array): { rows: Int32Array; columns: Int32Array } {
  const rows = new Int32Array(Math.max(0, ny - 1));
  const columns = new Int32Array(Math.max(0, nx - 1));
  for (let k = 1; k < nodes.length; k++) {
    const low = Math.min(nodes[k - 1], nodes[k]);
    if (nx > 1 && Math.abs(nodes[k] - nodes[k - 1]) === 1) columns[low % nx]++;
    else rows[Math.floor(low / nx)]++;
  }
  return { rows, columns };
}
