import type { GridResult } from './grid-methods.js';

/** One method's result on one room's lane grid. */
export interface GridEntry extends GridResult {
  readonly room: string;
  readonly method: string;
}

/** Costs (mm2) nearer than this are the same. */
const SAME = 1e-3;
/** A proof is sooner only by at least this factor and this many seconds: less is noise. */
const CLEARLY = 1.5;
const NOTICEABLE = 0.1;

const list = (names: readonly string[]): string => (names.length === 0 ? 'none' : names.join(', '));

/** What `own` won and lost against every other method on the same grids, a sentence each. */
export function verdictOnGrids(entries: readonly GridEntry[], own: string): string[] {
  const mine = entries.filter(({ method }) => method === own);
  const others = [...new Set(entries.map(({ method }) => method))].filter((method) => method !== own);
  return others.map((method) => {
    const pairs = mine.flatMap((ours) => {
      const theirs = entries.find((e) => e.method === method && e.room === ours.room);
      return theirs ? [{ room: ours.room, ours, theirs }] : [];
    });
    const rooms = (test: (ours: GridEntry, theirs: GridEntry) => boolean): string =>
      list(pairs.filter(({ ours, theirs }) => test(ours, theirs)).map(({ room }) => room));
    const cheaper = rooms((ours, theirs) => theirs.cost < ours.cost - SAME);
    const dearer = rooms((ours, theirs) => ours.cost < theirs.cost - SAME);
    const sooner = rooms((ours, theirs) => isProvenSooner(theirs, ours));
    const later = rooms((ours, theirs) => isProvenSooner(ours, theirs));
    const tighter = rooms((ours, theirs) => theirs.bound > ours.bound + SAME);
    return `- The ${own} search against ${method}: loses on cost in: ${cheaper}; wins on cost in: ${dearer}; weaker bound in: ${tighter}; proof clearly later or missing in: ${sooner}; proof clearly sooner in: ${later}.`;
  });
}

const isProvenSooner = (a: GridEntry, b: GridEntry): boolean =>
  a.proven && (!b.proven || (a.seconds * CLEARLY < b.seconds && a.seconds + NOTICEABLE < b.seconds));

/** Where the plain serpentine heats more than the planner's layout. */
export function verdictOnRooms(
  rooms: readonly { readonly room: string; readonly plain: number; readonly planned: number | null }[],
): string[] {
  const lost = rooms.flatMap(({ room, plain, planned }) =>
    planned === null || plain > planned + 5e-5
      ? [`${room} (${planned === null ? 'no layout' : `by ${(100 * (plain - planned)).toFixed(2)} points`})`]
      : [],
  );
  return [`- The whole planner heats less than the plain serpentine in: ${list(lost)}.`];
}
