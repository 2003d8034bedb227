import type { StudPath } from './stud-path.js';

/** A serpentine to be laid between two positions of a path, in place of what lies between them. */
export interface SerpentinePlan {
  /** Step of its runs: 1 or the lattice's row length. */
  readonly along: number;
  /** +1 or -1: which way its first run goes. */
  readonly way: number;
  /** Studs straight across the runs before the first run, and from the stretch's last node back to the last run. */
  readonly lead: number;
  readonly trail: number;
  /** Studs from one run to the next. */
  readonly gaps: readonly number[];
}

/** Lays serpentines between positions a and b of a path; what was found out about a node is kept for the next one. */
export class SerpentineLayer {
  private a = 0;
  private b = 0;
  private version = 0;
  private readonly known: Int32Array;
  private readonly walk: Int32Array;
  private length = 0;

  constructor(
    private readonly path: StudPath,
    private readonly usable: Uint8Array,
  ) {
    this.known = new Int32Array(usable.length);
    this.walk = new Int32Array(usable.length + 1);
  }

  between(a: number, b: number): void {
    this.a = a;
    this.b = b;
    this.version += 2;
  }

  /**
   * The serpentine's nodes, every run as long as it can be and still turn into the next; null where it does not fit.
   * Whether its parts keep clear of each other is left to `StudPath.legal`.
   */
  lay({ along, way, lead, trail, gaps }: SerpentinePlan): number[] | null {
    const { path, a, b } = this;
    const { nx } = path.s;
    const across = along === 1 ? nx : 1;
    const column = (v: number) => (along === 1 ? v % nx : Math.floor(v / nx));
    const row = (v: number) => (along === 1 ? Math.floor(v / nx) : v % nx);
    const goal = path.at(b) + trail * across;
    this.walk[0] = path.at(a);
    this.length = 1;
    if (!this.push(Math.sign(lead) * across, Math.abs(lead))) return null;
    const rise = Math.sign(row(goal) - row(this.end()));
    // A leg that the runs pass again on their way is a wall to them.
    const walls: number[] = [];
    if (lead * rise < 0) walls.push(column(path.at(a)));
    if (trail * rise > 0) walls.push(column(goal));
    let heading = way;
    for (const gap of gaps) {
      const from = this.length;
      while (this.open(this.end(), heading * along)) {
        const next = column(this.end()) + heading;
        if (walls.some((w) => (w - next) * heading >= 0 && Math.abs(w - next) < path.minGap)) break;
        this.add(this.end() + heading * along);
      }
      for (;;) {
        if (this.length === from) return null;
        const length = this.length;
        if (this.push(rise * across, gap)) break;
        this.length = length - 1;
      }
      heading = -heading;
    }
    const rest = (column(goal) - column(this.end())) * heading;
    if (rest < 0 || row(this.end()) !== row(goal)) return null;
    if (!this.push(heading * along, rest)) return null;
    if (!this.push(-Math.sign(trail) * across, Math.abs(trail))) return null;
    return this.end() === path.at(b) ? [...this.walk.subarray(0, this.length)] : null;
  }

  private end(): number {
    return this.walk[this.length - 1];
  }

  private add(v: number): void {
    this.walk[this.length++] = v;
  }

  private push(step: number, count: number): boolean {
    for (let k = 0; k < count; k++) {
      const v = this.end();
      if (v + step === this.path.at(this.b) ? !this.path.joined(v, step) : !this.open(v, step)) return false;
      this.add(v + step);
    }
    return true;
  }

  private open(v: number, step: number): boolean {
    const w = v + step;
    if (!this.path.joined(v, step) || this.usable[w] !== 1) return false;
    if (this.known[w] < this.version)
      this.known[w] = this.version + (this.path.clear(w, this.a, this.b) ? 1 : 0);
    return this.known[w] > this.version;
  }
}
