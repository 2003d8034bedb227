import type { AxisLanes } from './lane-choice.js';
import type { LaneSet } from './lanes.js';

/** What a lane costs for lying off its place among evenly spread lanes, mm2 for each square stud: it breaks ties. */
export const UNEVEN = 0.1;

/** A set of lanes, and what it costs but for the price, mm2: cold floor and unevenness. */
export interface PricedLanes extends LaneSet {
  readonly cost: number;
}

/**
 * The set of as many lanes, each between the same breaks as before, that costs least with a price (mm2 a stud) on
 * gaps, each as often as the route crosses it; of equals the most evenly spread. Null where there is none.
 */
export function pricedLanes(
  { costs, options, breaks }: AxisLanes,
  before: LaneSet,
  crossed: Int32Array,
  price: number,
): PricedLanes | null {
  const count = costs.lane.length;
  const n = before.lanes.length;
  const { minGap, maxGap, forced, firstCost, lastCost } = options;
  const gaps = maxGap - minGap + 1;
  const best = new Float64Array(n * count).fill(Infinity);
  const from = new Int16Array(n * count).fill(-1);
  const edges = [0, ...breaks, count];
  const first = before.lanes[0];
  const apart = n > 1 ? (before.lanes[n - 1] - first) / (n - 1) : 0;
  for (let k = 0; k < n; k++) {
    const lane = before.lanes[k];
    const place = edges.findIndex((edge) => edge > lane);
    const entry = lane === forced;
    for (let c = entry ? lane : edges[place - 1]; c < (entry ? lane + 1 : edges[place]); c++) {
      if (!costs.lane[c]) continue;
      const uneven = UNEVEN * (c - first - k * apart) ** 2;
      if (k === 0) {
        best[c] = costs.before[c] + firstCost[c] + uneven;
        continue;
      }
      for (let g = minGap; g <= maxGap; g++) {
        const p = c - g;
        if (p < 0) break;
        const cost =
          best[(k - 1) * count + p] +
          costs.between[p * gaps + g - minGap] +
          price * crossed[k - 1] * g +
          uneven;
        if (cost < best[k * count + c] - 1e-6) {
          best[k * count + c] = cost;
          from[k * count + c] = p;
        }
      }
    }
  }
  let end = -1;
  let least = Infinity;
  for (let c = 0; c < count; c++) {
    const cost = best[(n - 1) * count + c] + costs.after[c] + lastCost[c];
    if (cost >= least - 1e-6) continue;
    least = cost;
    end = c;
  }
  if (end < 0) return null;
  const lanes = new Int32Array(n);
  let runLength = 0;
  for (let k = n - 1, c = end; k >= 0; c = from[k * count + c], k--) {
    lanes[k] = c;
    runLength += costs.length[c];
  }
  let cold =
    costs.before[lanes[0]] + firstCost[lanes[0]] + costs.after[lanes[n - 1]] + lastCost[lanes[n - 1]];
  let priced = 0;
  for (let k = 1; k < n; k++) priced += price * crossed[k - 1] * (lanes[k] - lanes[k - 1]);
  for (let k = 1; k < n; k++) cold += costs.between[lanes[k - 1] * gaps + lanes[k] - lanes[k - 1] - minGap];
  return { lanes, cold, runLength, cost: least - priced };
}
