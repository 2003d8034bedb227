import type { GridTask } from '../model/grid-task.js';
import { type SweepView, sweepView } from './frontier-view.js';

/**
 * Edge potentials: multipliers of the condition that both cells of an edge agree on whether the path uses it.
 * Every cell then pays for itself: skip, corner or end, plus the potentials of its right and lower edge, minus those
 * of its left and upper edge, if used. Whatever the multipliers, the cheapest choices of all cells together are a
 * lower bound of any route; good multipliers come close to the linear relaxation of the whole problem. A state of the
 * sweep still has to pay at least `restFrom` of the next cell, plus the potentials of its open plugs, plus what the
 * cells surely skipped and the end add.
 */
export interface Potential {
  readonly right: Float64Array;
  readonly down: Float64Array;
  /** Sum over cell t and later of the cell's cheapest choice other than ending there. */
  readonly restFrom: Float64Array;
  /** What skipping the cell costs beyond its cheapest choice. */
  readonly skipExtra: Float64Array;
  /** What ending in the cell costs beyond its cheapest other choice; negative where ending is cheaper. */
  readonly endExtra: Float64Array;
}

const LEFT = 1;
const UP = 2;
const RIGHT = 4;
const DOWN = 8;
const PASSES = [LEFT | UP, LEFT | RIGHT, LEFT | DOWN, UP | RIGHT, UP | DOWN, RIGHT | DOWN];
const SIDES = [LEFT, UP, RIGHT, DOWN];
/** A choice that is not allowed counts as this many times the dearest cost while multipliers are improved. */
const FORBIDDEN = 64;
/** Potentials are whole multiples of a power of two this much below the dearest cost: sums of them stay exact. */
const GRAIN = 2 ** -26;
/** Every so many rounds the ascent stops unless the bound has risen by this share of the dearest cost. */
const REVIEW = 20;
const STALLED = 1e-3;
/** The bound is worked out after every so many rounds. */
const ASSESS = 4;

class Ascent {
  readonly size: number;
  readonly sides: Uint8Array;
  /** Potential of side k (left, up, right, down) of each cell, as that cell pays it. */
  readonly pay: Float64Array;
  readonly choice = new Float64Array(16);
  private readonly step = new Float64Array(4);
  readonly dearest: number;
  endShift = 0;

  constructor(readonly view: SweepView) {
    const { width, present } = view;
    this.size = present.length;
    this.sides = new Uint8Array(this.size);
    this.pay = new Float64Array(this.size * 4);
    this.dearest = dearestCost(view);
    for (let t = 0; t < this.size; t++) {
      if (view.right[t] === 1) {
        this.sides[t] |= RIGHT;
        this.sides[t + 1] |= LEFT;
        this.pay[4 * t + 2] = view.rightCost[t] / 2;
        this.pay[4 * (t + 1)] = view.rightCost[t] / 2;
      }
      if (view.down[t] === 1) {
        this.sides[t] |= DOWN;
        this.sides[t + width] |= UP;
        this.pay[4 * t + 3] = view.downCost[t] / 2;
        this.pay[4 * (t + width) + 1] = view.downCost[t] / 2;
      }
    }
  }

  /** Fills `choice` (indexed by the set of used sides; Infinity where not allowed) without ends. */
  passes(t: number): void {
    const { view, choice, sides, pay } = this;
    choice.fill(Number.POSITIVE_INFINITY);
    if (t === view.start) {
      for (let k = 0; k < 4; k++) if ((sides[t] & SIDES[k]) !== 0) choice[SIDES[k]] = pay[4 * t + k];
      return;
    }
    choice[0] = view.skipCost[t];
    if (view.endOnly[t] === 1) return;
    for (const set of PASSES) {
      if ((sides[t] & set) !== set) continue;
      let cost = set === (LEFT | RIGHT) || set === (UP | DOWN) ? 0 : view.turnCost[t];
      for (let k = 0; k < 4; k++) if ((set & SIDES[k]) !== 0) cost += pay[4 * t + k];
      choice[set] = cost;
    }
  }

  /** Adds the choices of ending here, each `shift` dearer than it is. */
  ends(t: number, shift: number): void {
    const { view, choice, sides, pay } = this;
    if (t === view.start || view.endCost[t] === Number.POSITIVE_INFINITY) return;
    for (let k = 0; k < 4; k++) {
      if ((sides[t] & SIDES[k]) !== 0) choice[SIDES[k]] = view.endCost[t] + shift + pay[4 * t + k];
    }
  }

  least(set: number, inside: number): number {
    let best = Number.POSITIVE_INFINITY;
    for (let s = 0; s < 16; s++) if ((s & set) === inside && this.choice[s] < best) best = this.choice[s];
    return best;
  }

  /** Hands what cell t knows about its sides in `towards` on to the neighbours there. */
  push(t: number, towards: number, against: number): void {
    const { sides, pay, view } = this;
    this.passes(t);
    this.ends(t, this.endShift);
    const share = 1 / Math.max(bits(sides[t] & towards), bits(sides[t] & against), 1);
    const { step } = this;
    const forbidden = FORBIDDEN * this.dearest;
    for (let k = 0; k < 4; k++) {
      step[k] = 0;
      if ((sides[t] & towards & SIDES[k]) === 0) continue;
      const used = Math.min(this.least(SIDES[k], SIDES[k]), forbidden);
      const unused = Math.min(this.least(SIDES[k], 0), forbidden);
      step[k] = (used - unused) * share;
    }
    const { width } = view;
    for (let k = 0; k < 4; k++) {
      if (step[k] === 0) continue;
      const other = k === 0 ? t - 1 : k === 1 ? t - width : k === 2 ? t + 1 : t + width;
      pay[4 * t + k] -= step[k];
      pay[4 * other + ((k + 2) & 3)] += step[k];
    }
  }

  /** Cheapest choice of cell t that is no end (that of ending there when it can do nothing else), potentials included. */
  passCost(t: number): number {
    this.passes(t);
    const pass = this.least(0, 0);
    return pass === Number.POSITIVE_INFINITY ? this.endCost(t) : pass;
  }

  endCost(t: number): number {
    this.choice.fill(Number.POSITIVE_INFINITY);
    this.ends(t, 0);
    return this.least(0, 0);
  }

  /** Bound on the cost of any route; also moves the price of an end to where one end is worth taking. */
  bound(): number {
    let total = 0;
    let end = Number.POSITIVE_INFINITY;
    for (let t = 0; t < this.size; t++) {
      if (this.view.present[t] === 0) continue;
      const pass = this.passCost(t);
      total += pass;
      if (pass !== Number.POSITIVE_INFINITY) end = Math.min(end, this.endCost(t) - pass);
    }
    if (Number.isFinite(end)) this.endShift = -end;
    return total + end;
  }
}

/** Multipliers after at most `rounds` rounds of coordinate ascent, forwards and backwards by turns. Deterministic. */
export function edgePotential(view: SweepView, rounds: number): Potential {
  const ascent = new Ascent(view);
  const { size, pay } = ascent;
  let best = Number.NEGATIVE_INFINITY;
  let kept = pay.slice();
  let milestone = best;
  for (let round = 0; round <= rounds; round++) {
    if (round % ASSESS === 0 || round === rounds) {
      const bound = ascent.bound();
      if (bound > best) {
        best = bound;
        kept = pay.slice();
      }
      if (bound === Number.POSITIVE_INFINITY) break;
    }
    if (round === rounds) break;
    if (round % REVIEW === 0) {
      if (best - milestone < STALLED * ascent.dearest) break;
      milestone = best;
    }
    if (round % 2 === 0) for (let t = 0; t < size; t++) ascent.push(t, RIGHT | DOWN, LEFT | UP);
    else for (let t = size - 1; t >= 0; t--) ascent.push(t, LEFT | UP, RIGHT | DOWN);
  }
  return settle(ascent, kept);
}

/** The potentials of one task, worked out once for all sweeps and windows that ask for them. */
export class Potentials {
  private readonly known = new Map<string, Potential>();

  constructor(private readonly task: GridTask) {}

  get(sweep: 'rows' | 'columns', rounds: number): Potential {
    const key = `${sweep} ${rounds}`;
    let potential = this.known.get(key);
    if (!potential) {
      potential = edgePotential(sweepView(this.task, sweep, false), rounds);
      this.known.set(key, potential);
    }
    return potential;
  }
}

/**
 * Potential of a view that has the cells of the one `kept` was found for, but fewer choices: the same multipliers hold,
 * and the bound is at least as high.
 */
export function restrictedPotential(view: SweepView, kept: Potential): Potential {
  const ascent = new Ascent(view);
  const { width } = view;
  const pay = new Float64Array(ascent.pay.length);
  for (let t = 0; t < ascent.size; t++) {
    if (view.right[t] === 1) pay[4 * (t + 1)] = -kept.right[t];
    if (view.down[t] === 1) pay[4 * (t + width) + 1] = -kept.down[t];
  }
  return settle(ascent, pay);
}

/** Rounds the multipliers (as the later cell of each edge pays them) and adds up what all cells pay. */
function settle(ascent: Ascent, kept: Float64Array): Potential {
  const { size, pay, view } = ascent;
  const { width } = view;
  const grain = 2 ** Math.ceil(Math.log2(ascent.dearest)) * GRAIN;
  const potential = {
    right: new Float64Array(size),
    down: new Float64Array(size),
    restFrom: new Float64Array(size + 1),
    skipExtra: new Float64Array(size).fill(Number.POSITIVE_INFINITY),
    endExtra: new Float64Array(size).fill(Number.POSITIVE_INFINITY),
  };
  for (let t = 0; t < size; t++) {
    if (view.right[t] === 1) {
      potential.right[t] = -Math.round(kept[4 * (t + 1)] / grain) * grain;
      pay[4 * (t + 1)] = -potential.right[t];
      pay[4 * t + 2] = view.rightCost[t] + potential.right[t];
    }
    if (view.down[t] === 1) {
      potential.down[t] = -Math.round(kept[4 * (t + width) + 1] / grain) * grain;
      pay[4 * (t + width) + 1] = -potential.down[t];
      pay[4 * t + 3] = view.downCost[t] + potential.down[t];
    }
  }
  for (let t = size - 1; t >= 0; t--) {
    potential.restFrom[t] = potential.restFrom[t + 1];
    if (view.present[t] === 0) continue;
    const pass = ascent.passCost(t);
    potential.restFrom[t] += pass;
    if (pass === Number.POSITIVE_INFINITY) continue;
    if (t !== view.start) potential.skipExtra[t] = view.skipCost[t] - pass;
    potential.endExtra[t] = ascent.endCost(t) - pass;
  }
  return potential;
}

/** Lower bound on the cost of any route, from the multipliers alone. */
export function potentialBound(potential: Potential): number {
  let end = Number.POSITIVE_INFINITY;
  for (const extra of potential.endExtra) if (extra < end) end = extra;
  return potential.restFrom[0] + end;
}

/** Largest finite cost of the task, 1 when all are 0. */
function dearestCost(view: SweepView): number {
  let most = 0;
  for (const costs of [view.skipCost, view.turnCost, view.endCost, view.rightCost, view.downCost]) {
    for (const cost of costs) if (cost > most && cost !== Number.POSITIVE_INFINITY) most = cost;
  }
  return most === 0 ? 1 : most;
}

function bits(set: number): number {
  return (set & 1) + ((set >> 1) & 1) + ((set >> 2) & 1) + (set >> 3);
}
