import type { Point, Ring } from '../../solver/problem.js';

const round = (value: number, places: number): number => {
  const scale = 10 ** places;
  // Adding 0 turns -0 into 0.
  return Math.round(value * scale) / scale + 0;
};

/** Millimetres to 1/10000. */
export const mm = (value: number): number => round(value, 4);

/** Areas (m2) and fractions to 1/1000000. */
export const part = (value: number): number => round(value, 6);

/** An upper bound keeps its meaning when it is rounded up. */
export const boundPart = (value: number): number => Math.ceil(value * 1e6) / 1e6;

/** JSON has no infinities. */
export const finite = (value: number): number | null => (Number.isFinite(value) ? mm(value) : null);

export const wirePoint = ([x, y]: Point): [number, number] => [mm(x), mm(y)];

export const wireRing = (ring: Ring): [number, number][] => ring.map(wirePoint);
