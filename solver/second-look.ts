/** Cables that one search over the whole catalogue found no layout for, though nothing proven speaks against them. */
import type { CableVerdict } from './plan-types.js';
import type { Cable } from './problem.js';
import { EFFORTS, type EffortBudget } from './search/effort.js';
import type { SearchResult } from './search/search-zone.js';

/** Most cables that get a search of their own: beside a layout, and where there is none otherwise. */
const BESIDE = 1;
const FAILING = 6;

/** Such a search beside a layout begins nothing more once it took this share of the work behind that layout. */
export const BESIDE_SHARE = 0.4;

/** Effort of such a search: a layout is wanted, not the best one. */
export const LIGHTLY: readonly EffortBudget[] = EFFORTS.quick.map((quick) => ({
  ...quick,
  rounds: 1,
  smallRooms: null,
  screens: 3,
  screenWork: quick.screenWork / 8,
  parityWork: quick.parityWork / 8,
  refine: 1,
  refineWork: quick.refineWork / 8,
  firstSweeps: quick.refineSweeps,
  firstStates: 0,
  finish: 1,
  smoothed: 0,
  fits: 0,
  exactTries: 0,
  annealTrials: 2000,
}));

/** Picks cables to be searched for alone, and remembers what came of it. */
export class SecondLook {
  private readonly looked: { readonly cable: Cable; found: boolean }[] = [];

  /** `beside`: a layout of some cable is at hand already. */
  constructor(
    private readonly cables: readonly Cable[],
    private readonly beside: boolean,
  ) {}

  /** The next cable worth a search of its own by these verdicts; those nearest to the fitting ones come first. */
  next(verdicts: readonly CableVerdict[], hopeless: (cable: Cable) => boolean): Cable | null {
    if (this.looked.length >= (this.beside ? BESIDE : FAILING)) return null;
    const doubtful = this.cables.flatMap((cable) => {
      const verdict = verdicts.find((v) => v.cable === cable.id);
      if (!verdict || verdict.fits || verdict.coverage !== null || hopeless(cable)) return [];
      return this.settled(cable, verdict) ? [] : [{ cable, reason: verdict.reason }];
    });
    const ascending = doubtful.sort((a, b) => a.cable.length - b.cable.length);
    const long = ascending.find(({ reason }) => reason === 'too-long');
    return (long ?? ascending[ascending.length - 1])?.cable ?? null;
  }

  note(cable: Cable, found: boolean): void {
    this.looked.push({ cable, found });
  }

  /** Whether it had its search, or one in vain for a cable that is easier to lay settles it. */
  private settled(cable: Cable, { reason }: CableVerdict): boolean {
    return this.looked.some((one) => {
      if (one.cable.id === cable.id) return true;
      if (one.found || one.cable.minBendRadius > cable.minBendRadius) return false;
      return reason === 'too-long'
        ? one.cable.length <= cable.length
        : reason === 'too-short' && one.cable.length >= cable.length;
    });
  }
}

/** What two searches of one zone found. */
export const together = (a: SearchResult, b: SearchResult): SearchResult => ({
  found: [...a.found, ...b.found].sort((x, y) => x.score - y.score),
  missed: new Map([...a.missed, ...b.missed]),
  longestTail: Math.max(a.longestTail, b.longestTail),
  routed: [...a.routed, ...b.routed],
  guardFired: a.guardFired || b.guardFired,
  work: a.work + b.work,
});
