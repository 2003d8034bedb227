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
  /** Per cell: skipping (capped) and a corner (Infinity where the path may not pass). */
  private readonly skip: Float64Array;
  private readonly turn: Float64Array;
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
   * One round, forwards (backwards): every cell hands what it knows about its right and lower (left and upper) side on
   * to the neighbours there, which is what the side would cost used less what it would cost unused, shared out.
   */
  round(forwards: boolean): void {
    const { pay, size, forbidden, endShift, skip, turn } = this;
    const { width, start, endCost } = this.view;
    const shares = forwards ? this.shareOn : this.shareBack;
    // x and y are what the sides handed on pay, left and up what those opposite pay, as seen the way the round goes.
    const [onX, onY, backX, backY] = forwards ? [RIGHT, DOWN, LEFT, UP] : [LEFT, UP, RIGHT, DOWN];
    const step = forwards ? 1 : -1;
    for (let n = 0, t = forwards ? 0 : size - 1; n < size; n++, t += step) {
      const share = shares[t];
      if (share === 0) continue;
      const p = 4 * t;
      const x = pay[p + onX];
      const y = pay[p + onY];
      const left = pay[p + backX];
      const up = pay[p + backY];
      let usedX = x;
      let usedY = y;
      let restX: number;
      let restY: number;
      if (t === start) {
        restX = Math.min(left, up, y, forbidden);
        restY = Math.min(left, up, x, forbidden);
      } else {
        const corner = turn[t];
        const along = corner + Math.min(up, y);
        const across = corner + Math.min(left, x);
        const straight = corner === Infinity ? Infinity : 0;
        usedX += Math.min(straight + left, along);
        usedY += Math.min(straight + up, across);
        restX = Math.min(skip[t], straight + up + y, along + left);
        restY = Math.min(skip[t], straight + left + x, across + up);
        if (endCost[t] !== Infinity) {
          const end = endCost[t] + endShift;
          usedX = Math.min(usedX, x + end);
          usedY = Math.min(usedY, y + end);
          restX = Math.min(restX, end + Math.min(left, up, y));
          restY = Math.min(restY, end + Math.min(left, up, x));
        }
      }
      if (x < Infinity) {
        const more = (Math.min(usedX, forbidden) - restX) * share;
        pay[p + onX] -= more;
        pay[p + 4 * step + backX] += more;
      }
      if (y < Infinity) {
        const more = (Math.min(usedY, forbidden) - restY) * share;
        pay[p + onY] -= more;
        pay[p + 4 * step * width + backY] += more;
      }
    }
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

  passCost(t: number): number {
    const { view, pay } = this;
    const p = 4 * t;
    return cheapestPass(view, t, pay[p + LEFT], pay[p + UP], pay[p + RIGHT], pay[p + DOWN]);
  }

  endCost(t: number): number {
    const { view, pay } = this;
    const p = 4 * t;
    return cheapestEnd(view, t, pay[p + LEFT], pay[p + UP], pay[p + RIGHT], pay[p + DOWN]);
  }
}

/**
 * Cheapest choice of cell t that is no end (that of ending there when it can do nothing else), where using its left,
 * upper, right and lower side costs l, u, r and d.
 */
export function cheapestPass(view: SweepView, t: number, l: number, u: number, r: number, d: number): number {
  if (t === view.start) return Math.min(l, u, r, d);
  const skip = view.skipCost[t];
  const pass =
    view.endOnly[t] === 1
      ? skip
      : Math.min(skip, l + r, u + d, view.turnCost[t] + Math.min(l, r) + Math.min(u, d));
  return pass === Number.POSITIVE_INFINITY ? cheapestEnd(view, t, l, u, r, d) : pass;
}

/** The same for ending in cell t. */
export function cheapestEnd(view: SweepView, t: number, l: number, u: number, r: number, d: number): number {
  const end = view.endCost[t];
  if (t === view.start || end === Number.POSITIVE_INFINITY) return Number.POSITIVE_INFINITY;
  return end + Math.min(l, u, r, d);
}

/** Largest finite cost of the task, 1 when all are 0. */
function dearestCost(view: SweepView): number {
  let most = 0;
  for (const costs of [view.skipCost, view.turnCost, view.endCost, view.rightCost, view.downCost]) {
    for (const cost of costs) if (cost > most && cost !== Number.POSITIVE_INFINITY) most = cost;
  }
  return most === 0 ? 1 : most;
}
