/** Where to cut a floor across one axis so that each strip suits a cable and lies near the entry. */

/** Lengths mm, areas mm2; channels are numbered along the axis that the cuts cross. */
export interface CutTask {
  /** Target area at each channel, half a pitch to either side. */
  readonly areas: Float64Array;
  readonly pitch: number;
  /** Channels between the last one of a strip and the first of the next. */
  readonly gap: number;
  /** Fewest channels of a strip. */
  readonly narrowest: number;
  /** Channel of the entry; may be fractional. */
  readonly entry: number;
  /** How far (share of the area) a strip of this area is from what suits some cable; Infinity where none will do. */
  misfit(area: number): number;
}

/** mm of way between entries that a strip twice as large as the mean is worth. */
const EVENNESS = 8000;

/** mm of way between entries that a strip all of whose area is amiss for its cable is worth. */
const FIT = 20_000;

/** Most places tried for a cut; wide floors are cut at every second or third channel and so on. */
const MOST_PLACES = 400;

/** The channels that begin and end a strip, both its own, and its target area. */
export interface Strip {
  readonly first: number;
  readonly last: number;
  readonly area: number;
}

/**
 * Exactly `count` strips over all channels, by dynamic programming over the cuts: least sum of distances from the
 * entry, uneven areas discouraged. Null when no such cut suits.
 */
export function cutStrips(task: CutTask, count: number): Strip[] | null {
  const { areas, gap, pitch, entry, narrowest } = task;
  const n = areas.length;
  const sums = new Float64Array(n + 1);
  for (let c = 0; c < n; c++) sums[c + 1] = sums[c] + areas[c];
  // Area below a place between channels, measured in channels.
  const below = (x: number): number => {
    const k = Math.max(0, Math.min(n - 1, Math.floor(x + 0.5)));
    return sums[k] + areas[k] * Math.max(0, Math.min(1, x + 0.5 - k));
  };
  const total = sums[n];
  const mean = total / count;
  const areaOf = (first: number, last: number): number =>
    (last === n - 1 ? total : below(last + gap / 2)) - (first === 0 ? 0 : below(first - gap / 2));
  const costOf = (first: number, last: number): number => {
    if (last - first + 1 < narrowest) return Infinity;
    const area = areaOf(first, last);
    const misfit = task.misfit(area);
    if (misfit === Infinity) return Infinity;
    const away = Math.max(0, first - entry, entry - last) * pitch;
    return away + FIT * misfit + EVENNESS * (area / mean - 1) ** 2;
  };
  const step = Math.ceil(n / MOST_PLACES);
  const best = new Float64Array((count + 1) * n).fill(Infinity);
  const before = new Int32Array((count + 1) * n).fill(-1);
  for (let q = 0; q < n; q++) best[n + q] = costOf(0, q);
  for (let m = 2; m <= count; m++)
    for (let q = m === count ? n - 1 : 0; q < n; q += step)
      for (let p = 0; p + gap <= q; p += step) {
        const sofar = best[(m - 1) * n + p];
        if (sofar >= best[m * n + q]) continue;
        const cost = sofar + costOf(p + gap, q);
        if (cost < best[m * n + q]) {
          best[m * n + q] = cost;
          before[m * n + q] = p;
        }
      }
  if (best[count * n + n - 1] === Infinity) return null;
  const strips: Strip[] = [];
  for (let m = count, last = n - 1; m >= 1; m--) {
    const p = before[m * n + last];
    const first = m === 1 ? 0 : p + gap;
    strips.push({ first, last, area: areaOf(first, last) });
    last = p;
  }
  return strips.reverse();
}
