import { legLength, type Shaper, sideways } from './shaper.js';

export interface AnnealPlan {
  readonly trials: number;
  /** First and last temperature, mm2. */
  readonly hot: number;
  readonly cool: number;
  readonly random: () => number;
  /** Guard, asked every so many trials. */
  expired?(): boolean;
}

const ASKED_EVERY = 500;

/**
 * Simulated annealing with the moves of `polish`, taken at random. Leaves the best path met as lattice nodes, with the
 * number of heated ones, when it is better than the path was; null when it is not (the path itself is then worn).
 */
export function anneal(shaper: Shaper, plan: AnnealPlan): { nodes: Int32Array; heated: number } | null {
  const { path } = shaper;
  const { random } = plan;
  let best = shaper.score();
  let kept: { nodes: Int32Array; heated: number } | null = null;
  const cooling = (plan.cool / plan.hot) ** (1 / Math.max(1, plan.trials));
  let temperature = plan.hot;
  let asked = 0;
  for (let n = 0, spent = 1; n < plan.trials; n += spent, temperature *= cooling ** spent) {
    if (n - asked >= ASKED_EVERY) {
      asked = n;
      if (plan.expired?.() === true) break;
    }
    const before = shaper.trials;
    spent = 1;
    const last = shaper.last();
    const at = Math.floor(random() * last);
    let k = at;
    while (k > 0 && !path.isCorner(k)) k--;
    let end = at + 1;
    while (end < last && !path.isCorner(end)) end++;
    const normal = Math.abs(path.at(k + 1) - path.at(k)) === 1 ? path.s.nx : 1;
    const side = random() < 0.5 ? normal : -normal;
    const kind = random();
    let depth = 1 + Math.floor(random() * 3);
    let p = k;
    let q = end;
    if (kind < 0.15)
      depth = Math.max(1, random() < 0.5 ? legLength(path, k, -1, side) : legLength(path, end, 1, side));
    else if (kind < 0.4) {
      // Part of the stretch, from one of its ends.
      const part = 1 + Math.floor(random() * (end - k));
      if (random() < 0.5) q = k + part;
      else p = end - part;
    } else if (kind < 0.5) {
      p = k + Math.floor(random() * (end - k));
      q = Math.min(end, p + path.minGap + Math.floor(random() * 6));
      depth = path.minGap + Math.floor(random() * 3);
    }
    if (q <= p) continue;
    const allowance = -temperature * Math.log(Math.max(1e-12, random()));
    const made = shaper.attempt(sideways(path, p, q, side, depth), allowance);
    spent = Math.max(1, shaper.trials - before);
    if (!made) continue;
    const score = shaper.score();
    if (score < best - 1e-6) {
      best = score;
      kept = { nodes: path.nodes.slice(0, path.length), heated: path.heatedUpTo() };
    }
  }
  return kept;
}
