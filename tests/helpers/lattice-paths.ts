/** Every simple path on a small lattice, by plain depth-first enumeration. */

export interface SmallLattice {
  readonly nx: number;
  readonly ny: number;
  /** Whether the step between two neighbouring nodes (v = j * nx + i) is open. */
  open(v: number, w: number): boolean;
}

/** Calls `visit` with every simple path from `start` (one node included); a false answer ends that branch. */
export const eachPath = (
  lattice: SmallLattice,
  start: number,
  visit: (path: readonly number[]) => boolean,
): void => {
  const { nx, ny } = lattice;
  const used = new Uint8Array(nx * ny);
  const path: number[] = [];
  const go = (v: number): void => {
    used[v] = 1;
    path.push(v);
    if (visit(path)) {
      const i = v % nx;
      if (i + 1 < nx && used[v + 1] === 0 && lattice.open(v, v + 1)) go(v + 1);
      if (v + nx < nx * ny && used[v + nx] === 0 && lattice.open(v, v + nx)) go(v + nx);
      if (i > 0 && used[v - 1] === 0 && lattice.open(v, v - 1)) go(v - 1);
      if (v >= nx && used[v - nx] === 0 && lattice.open(v, v - nx)) go(v - nx);
    }
    path.pop();
    used[v] = 0;
  };
  go(start);
};
