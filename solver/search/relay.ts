import { polish } from './polish.js';
import { SerpentineLayer } from './serpentine.js';
import { cornersOf, serpentinePlans } from './serpentine-plans.js';
import type { Move, Shaper } from './shaper.js';

/** Corners of a stretch laid anew, those behind a short piece between opposite corners not counted. */
const REACH = 8;

/** A move must gain at least this much, mm2. */
const LEAST_GAIN = 1e-3;

/** Moves that might gain once the path has been polished: how many are tried, and how long. */
const PROSPECTS = 4;
const PROSPECT_TRIALS = 2500;

/** What that polish is expected to leave of the cost of a wrong length, and the turns' worth it is to win back. */
const MISS_LEFT = 0.1;
const WON_BACK = 3;

/** Serpentines drawn that take as long as one move weighed. */
const DRAWN_PER_TRIAL = 10;

/** The same in units of `room-work.ts`. */
const DRAWN_WORK = 0.4;

interface Prospect {
  readonly move: Move;
  readonly value: number;
}

/**
 * Lays stretches with short pieces between opposite corners (steps, stairs, stubby fingers) anew as serpentines of
 * either axis, wherever that lowers the score at once or after a polish. `widest`: studs between the new runs.
 * `expired` ends it between two stretches.
 */
export function relay(shaper: Shaper, maxTrials: number, widest: number, expired?: () => boolean): void {
  const stop = shaper.trials + maxTrials;
  while (shaper.trials < stop) {
    const prospects = layGaining(shaper, widest, () => shaper.trials >= stop || expired?.() === true);
    if (expired?.() === true || !prospects.some(({ move }) => gainsPolished(shaper, move))) return;
  }
}

/** Makes the move and polishes the path; takes it all back unless that gains. */
function gainsPolished(shaper: Shaper, move: Move): boolean {
  const score = shaper.score();
  const before = shaper.snapshot();
  if (!shaper.attempt(move, Infinity)) return false;
  polish(shaper, PROSPECT_TRIALS);
  if (shaper.score() < score - LEAST_GAIN) return true;
  shaper.restore(before);
  return false;
}

/** Makes moves that gain until there are none; tells the most promising of the others, best first. */
function layGaining(shaper: Shaper, widest: number, enough: () => boolean): Prospect[] {
  const layer = new SerpentineLayer(shaper.path, shaper.goal.usable);
  let corners = cornersOf(shaper);
  let prospects: Prospect[] = [];
  const dearest = () =>
    Math.min(WON_BACK * shaper.goal.turnWeight, prospects[PROSPECTS - 1]?.value ?? Infinity);
  const layBetween = (i: number, j: number): boolean => {
    const [a, b] = [corners.positions[i], corners.positions[j]];
    layer.between(a, b);
    for (const plan of serpentinePlans(shaper, corners, i, j, widest)) {
      shaper.trials += 1 / DRAWN_PER_TRIAL;
      shaper.spent += DRAWN_WORK;
      const walk = layer.lay(plan);
      const move = walk && { a, b, walk };
      const weight = move && shaper.weigh(move, dearest(), 1 - MISS_LEFT);
      if (!weight) continue;
      if (weight.cost < -LEAST_GAIN) return shaper.attempt(move, Infinity);
      prospects = [...prospects, { move, value: weight.value }]
        .sort((p, q) => p.value - q.value)
        .slice(0, PROSPECTS);
    }
    return false;
  };
  for (let i = 0; i + 2 < corners.positions.length; i++)
    for (let j = i + 2; j < corners.positions.length; j++) {
      const steps = corners.steps[j] - corners.steps[i];
      if (j - i - steps > REACH) break;
      if (enough()) return prospects;
      if (steps === 0 || !layBetween(i, j)) continue;
      corners = cornersOf(shaper);
      prospects = [];
      i = Math.max(-1, i - 2 * REACH);
      break;
    }
  return prospects;
}
