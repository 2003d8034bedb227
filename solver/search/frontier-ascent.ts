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
  /** What the sides of the cell last looked at would cost used and unused: used minus unused, capped. */
  private readonly margin = new Float64Array(4);

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
  }

  /** One round: every cell hands what it knows about its sides on, forwards (backwards). */
  round(forwards: boolean): void {
    const { size } = this;
    if (forwards) for (let t = 0; t < size; t++) this.push(t, RIGHT, LEFT);
    else for (let t = size - 1; t >= 0; t--) this.push(t, LEFT, RIGHT);
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

  /** Fills `margin`. */
  private margins(t: number): void {
    const { view, pay, margin, forbidden } = this;
    const p = 4 * t;
    const l = pay[p];
    const u = pay[p + 1];
    const r = pay[p + 2];
    const d = pay[p + 3];
    if (t === view.start) {
      margin[LEFT] = Math.min(l, forbidden) - Math.min(u, r, d, forbidden);
      margin[UP] = Math.min(u, forbidden) - Math.min(l, r, d, forbidden);
      margin[RIGHT] = Math.min(r, forbidden) - Math.min(l, u, d, forbidden);
      margin[DOWN] = Math.min(d, forbidden) - Math.min(l, u, r, forbidden);
      return;
    }
    const end = view.endCost[t] + this.endShift;
    const skip = Math.min(view.skipCost[t], forbidden);
    const turn = view.endOnly[t] === 1 ? Number.POSITIVE_INFINITY : view.turnCost[t];
    const straight = view.endOnly[t] === 1 ? Number.POSITIVE_INFINITY : 0;
    const across = turn + Math.min(l, r);
    const along = turn + Math.min(u, d);
    const lr = straight + l + r;
    const ud = straight + u + d;
    const usedL = l + Math.min(straight + r, along, end);
    const usedR = r + Math.min(straight + l, along, end);
    const usedU = u + Math.min(straight + d, across, end);
    const usedD = d + Math.min(straight + u, across, end);
    const horizontal = Math.min(skip, lr);
    const vertical = Math.min(skip, ud);
    const restL = Math.min(vertical, along + r, end + Math.min(u, r, d));
    const restR = Math.min(vertical, along + l, end + Math.min(u, l, d));
    const restU = Math.min(horizontal, across + d, end + Math.min(l, r, d));
    const restD = Math.min(horizontal, across + u, end + Math.min(l, r, u));
    margin[LEFT] = Math.min(usedL, forbidden) - restL;
    margin[RIGHT] = Math.min(usedR, forbidden) - restR;
    margin[UP] = Math.min(usedU, forbidden) - restU;
    margin[DOWN] = Math.min(usedD, forbidden) - restD;
  }

  /** Hands what cell t knows about two of its sides (k and k + 1) on to the neighbours there. */
  private push(t: number, k: number, against: number): void {
    const { pay, view, margin } = this;
    const p = 4 * t;
    const here = (pay[p + k] < Infinity ? 1 : 0) + (pay[p + k + 1] < Infinity ? 1 : 0);
    if (here === 0 || view.present[t] === 0) return;
    const there = (pay[p + against] < Infinity ? 1 : 0) + (pay[p + against + 1] < Infinity ? 1 : 0);
    const share = 1 / Math.max(here, there);
    this.margins(t);
    const [x, y] = [margin[k] * share, margin[k + 1] * share];
    const sign = k === RIGHT ? 1 : -1;
    if (pay[p + k] < Infinity) {
      pay[p + k] -= x;
      pay[4 * (t + sign) + against] += x;
    }
    if (pay[p + k + 1] < Infinity) {
      pay[p + k + 1] -= y;
      pay[4 * (t + sign * view.width) + against + 1] += y;
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
