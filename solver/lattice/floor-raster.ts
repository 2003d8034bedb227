import type { Priority, Region } from '../problem.js';
import { crossings } from './scanline.js';
import type { StudLattice } from './stud-lattice.js';

/**
 * The target area as weighted pixels, `per` pixels a pitch, lattice nodes on pixel corners. Pixel (x, y) of the raster
 * has index y * width + x; node (i, j) is the lower left corner of pixel (i * per + pad, j * per + pad).
 */
export interface FloorRaster {
  readonly per: number;
  readonly pad: number;
  readonly width: number;
  readonly height: number;
  /** Weighted target area in each pixel, mm2. */
  readonly weight: Float32Array;
  /** Sum of all weights. */
  readonly total: number;
}

/** `reach`: how far (mm) heat spreads, which the margin around the lattice must hold. */
export function floorRaster(
  s: StudLattice,
  target: Region,
  priorities: readonly Priority[],
  per: number,
  reach: number,
): FloorRaster {
  const { pitch, origin } = s.lattice;
  const size = pitch / per;
  const pad = Math.ceil(reach / size) + 1;
  const width = (s.nx - 1) * per + 2 * pad;
  const height = (s.ny - 1) * per + 2 * pad;
  const weight = new Float32Array(width * height);
  const left = origin[0] + s.i0 * pitch - pad * size;
  const bottom = origin[1] + s.j0 * pitch - pad * size;
  const fill = (region: Region, put: (k: number, share: number) => void) => {
    for (let y = 0; y < height; y++) {
      const cuts = crossings(region, 'y', bottom + (y + 0.5) * size);
      for (let k = 0; k + 1 < cuts.length; k += 2) {
        const from = (cuts[k] - left) / size;
        const to = (cuts[k + 1] - left) / size;
        for (let x = Math.max(0, Math.floor(from)); x < to && x < width; x++)
          put(y * width + x, Math.min(to, x + 1) - Math.max(from, x));
      }
    }
  };
  fill(target, (k, share) => {
    weight[k] += share * size * size;
  });
  for (const { outline, weight: factor } of priorities)
    fill([outline], (k, share) => {
      weight[k] *= 1 + share * (factor - 1);
    });
  let total = 0;
  for (const w of weight) total += w;
  return { per, pad, width, height, weight, total };
}

/** Summed-area table: sums[(y + 1) * (width + 1) + x + 1] = weight left of and below pixel (x, y), itself included. */
export function summedArea(r: FloorRaster): Float64Array {
  const row = r.width + 1;
  const sums = new Float64Array(row * (r.height + 1));
  for (let y = 0; y < r.height; y++) {
    let run = 0;
    for (let x = 0; x < r.width; x++) {
      run += r.weight[y * r.width + x];
      sums[(y + 1) * row + x + 1] = sums[y * row + x + 1] + run;
    }
  }
  return sums;
}

/** Weight in the pixel box [x0, x1) x [y0, y1). */
export function boxSum(
  r: FloorRaster,
  sums: Float64Array,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
): number {
  const row = r.width + 1;
  const a = Math.max(0, x0);
  const b = Math.max(0, y0);
  const c = Math.min(r.width, x1);
  const d = Math.min(r.height, y1);
  if (c <= a || d <= b) return 0;
  return sums[d * row + c] - sums[b * row + c] - sums[d * row + a] + sums[b * row + a];
}
