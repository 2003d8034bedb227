import type { SweepView } from './frontier-view.js';

/** Sides of a cell, also the index of what it pays there. */
export const LEFT = 0;
export const UP = 1;
export const RIGHT = 2;
export const DOWN = 3;

/** A choice that is not allowed counts as this many times the dearest cost while multipliers are improved. */
const FORBIDDEN = 64;

/**
 * The Lagrangian relaxation behind `Potential`, with its multipliers: every cell chooses for itself which of its sides
 * the path uses and pays its part of each edge.
 */
export class Ascent {
  readonly size: number;
  /** What cell t pays for using side k, at [4 * t + k]; Infinity where there is no edge. */
  readonly pay: Float64Array;
  readonly dearest: number;
  private readonly forbidden: number;
  private endShift = 0;
  /** Per cell: skipping (capped), a corner (Infinity where the path may not pass), ending. */
  private readonly skip: Float64Array;
  private readonly turn: Float64Array;
  private readonly ends: Float64Array;
  /** Share of what a cell knows that each of its sides gets, forwards and backwards; 0 without sides there. */
  private readonly shareOn: Float64Array;
  private readonly shareBack: Float64Array;

  constructor(readonly view: SweepView) {
    const { width, present, right, down, rightCost, downCost } = view;
    this.size = present.length;
    this.pay = new Float64Array(this.size * 4).fill(Number.POSITIVE_INFINITY);
    this.dearest = dearestCost(view);
    this.forbidden = FORBIDDEN * this.dearest;
    const { pay } = this;
    for (let t = 0; t < this.size; t++) {
      if (right[t] === 1) pay[4 * t + RIGHT] = pay[4 * (t + 1) + LEFT] = rightCost[t] / 2;
      if (down[t] === 1) pay[4 * t + DOWN] = pay[4 * (t + width) + UP] = downCost[t] / 2;
    }
    this.skip = view.skipCost.map((cost) => Math.min(cost, this.forbidden));
    this.turn = view.turnCost.map((cost, t) => (view.endOnly[t] === 1 ? Number.POSITIVE_INFINITY : cost));
    this.ends = view.endCost;
    this.shareOn = new Float64Array(this.size);
    this.shareBack = new Float64Array(this.size);
    for (let t = 0; t < this.size; t++) {
      const back = (pay[4 * t + LEFT] < Infinity ? 1 : 0) + (pay[4 * t + UP] < Infinity ? 1 : 0);
      const on = (pay[4 * t + RIGHT] < Infinity ? 1 : 0) + (pay[4 * t + DOWN] < Infinity ? 1 : 0);
      if (on > 0) this.shareOn[t] = 1 / Math.max(on, back);
      if (back > 0) this.shareBack[t] = 1 / Math.max(on, back);
    }
  }

  /**
   * One round: every cell hands what it knows about its right and lower (left and upper) side on to the neighbours
   * there: what the side would cost used and unused, the difference shared out among the cell's sides.
   */
  round(forwards: boolean): void {
    if (forwards) this.forwards();
    else this.backwards();
  }

  /** Cheapest choice of cell t that is no end (that of ending there when it can do nothing else), potentials included. */
  passCost(t: number): number {
    const pass = this.cheapestPass(t);
    return pass === Number.POSITIVE_INFINITY ? this.endCost(t) : pass;
  }

  endCost(t: number): number {
    const { view, pay } = this;
    if (t === view.start || view.endCost[t] === Number.POSITIVE_INFINITY) return Number.POSITIVE_INFINITY;
    const p = 4 * t;
    return view.endCost[t] + Math.min(pay[p], pay[p + 1], pay[p + 2], pay[p + 3]);
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

  private cheapestPass(t: number): number {
    const { view, pay } = this;
    const p = 4 * t;
    const [l, u, r, d] = [pay[p], pay[p + 1], pay[p + 2], pay[p + 3]];
    if (t === view.start) return Math.min(l, u, r, d);
    const skip = view.skipCost[t];
    if (view.endOnly[t] === 1) return skip;
    return Math.min(skip, l + r, u + d, view.turnCost[t] + Math.min(l, r) + Math.min(u, d));
  }

  private forwards(): void {
    const { pay, size, forbidden, endShift, skip, turn, ends, shareOn } = this;
    const { width, start, right, down } = this.view;
    for (let t = 0; t < size; t++) {
      const share = shareOn[t];
      if (share === 0) continue;
      const p = 4 * t;
      const l = pay[p];
      const u = pay[p + 1];
      const r = pay[p + 2];
      const d = pay[p + 3];
      let usedR = r;
      let usedD = d;
      let restR: number;
      let restD: number;
      if (t === start) {
        restR = Math.min(Math.min(l, u), Math.min(d, forbidden));
        restD = Math.min(Math.min(l, u), Math.min(r, forbidden));
      } else {
        const along = turn[t] + Math.min(u, d);
        const across = turn[t] + Math.min(l, r);
        const straight = turn[t] === Infinity ? Infinity : 0;
        usedR += Math.min(straight + l, along);
        usedD += Math.min(straight + u, across);
        restR = Math.min(Math.min(skip[t], straight + u + d), along + l);
        restD = Math.min(Math.min(skip[t], straight + l + r), across + u);
        if (ends[t] !== Infinity) {
          const end = ends[t] + endShift;
          usedR = Math.min(usedR, r + end);
          usedD = Math.min(usedD, d + end);
          const lu = Math.min(l, u);
          restR = Math.min(restR, end + Math.min(lu, d));
          restD = Math.min(restD, end + Math.min(lu, r));
        }
      }
      if (right[t] === 1) {
        const x = (Math.min(usedR, forbidden) - restR) * share;
        pay[p + RIGHT] -= x;
        pay[p + 4 + LEFT] += x;
      }
      if (down[t] === 1) {
        const y = (Math.min(usedD, forbidden) - restD) * share;
        pay[p + DOWN] -= y;
        pay[p + 4 * width + UP] += y;
      }
    }
  }

  private backwards(): void {
    const { pay, size, forbidden, endShift, skip, turn, ends, shareBack } = this;
    const { width, start, right, down } = this.view;
    for (let t = size - 1; t >= 0; t--) {
      const share = shareBack[t];
      if (share === 0) continue;
      const p = 4 * t;
      const l = pay[p];
      const u = pay[p + 1];
      const r = pay[p + 2];
      const d = pay[p + 3];
      let usedL = l;
      let usedU = u;
      let restL: number;
      let restU: number;
      if (t === start) {
        restL = Math.min(Math.min(r, u), Math.min(d, forbidden));
        restU = Math.min(Math.min(l, r), Math.min(d, forbidden));
      } else {
        const along = turn[t] + Math.min(u, d);
        const across = turn[t] + Math.min(l, r);
        const straight = turn[t] === Infinity ? Infinity : 0;
        usedL += Math.min(straight + r, along);
        usedU += Math.min(straight + d, across);
        restL = Math.min(Math.min(skip[t], straight + u + d), along + r);
        restU = Math.min(Math.min(skip[t], straight + l + r), across + d);
        if (ends[t] !== Infinity) {
          const end = ends[t] + endShift;
          usedL = Math.min(usedL, l + end);
          usedU = Math.min(usedU, u + end);
          const rd = Math.min(r, d);
          restL = Math.min(restL, end + Math.min(rd, u));
          restU = Math.min(restU, end + Math.min(rd, l));
        }
      }
      if (t > 0 && right[t - 1] === 1) {
        const x = (Math.min(usedL, forbidden) - restL) * share;
        pay[p + LEFT] -= x;
        pay[p - 4 + RIGHT] += x;
      }
      if (t >= width && down[t - width] === 1) {
        const y = (Math.min(usedU, forbidden) - restU) * share;
        pay[p + UP] -= y;
        pay[p - 4 * width + DOWN] += y;
      }
    }
  }
}

/** Largest finite cost of the task, 1 when all are 0. */
function dearestCost(view: SweepView): number {
  let most = 0;
  for (const costs of [view.skipCost, view.turnCost, view.endCost, view.rightCost, view.downCost]) {
    for (const cost of costs) if (cost > most && cost !== Number.POSITIVE_INFINITY) most = cost;
  }
  return most === 0 ? 1 : most;
}
