import type { CableVerdict } from './plan-types.js';
import type { Cable } from './problem.js';
import { mm } from './words.js';

/**
 * Brings verdicts on lengths into line with one another: a cable is short by at least what brings it to the length
 * that a longer one still lacks, and long by at least what brings it to what is too much for a shorter one. Proofs
 * that speak before the search know only bounds, which by themselves promise too much.
 */
export function agreeing(verdicts: readonly CableVerdict[], cables: readonly Cable[]): CableVerdict[] {
  const known = verdicts.flatMap((verdict) => {
    const cable = cables.find(({ id }) => id === verdict.cable);
    return cable ? [{ verdict, cable }] : [];
  });
  return verdicts.map((verdict) => {
    const own = known.find((one) => one.verdict === verdict);
    const { reason, by } = verdict;
    if (!own || by === null || (reason !== 'too-long' && reason !== 'too-short')) return verdict;
    const way = reason === 'too-long' ? -1 : 1;
    const between = (cable: Cable) => (cable.length - own.cable.length) * way;
    const nearest = Math.min(
      ...known.filter(({ verdict: v }) => v.fits).map(({ cable }) => beyond(between(cable))),
    );
    let most = by;
    let witness: Cable | null = null;
    for (const { verdict: other, cable } of known) {
      if (other.reason !== reason || other.by === null || !noHarder(cable, own.cable)) continue;
      const apart = between(cable);
      if (apart <= 0 || apart > nearest || apart + other.by <= most) continue;
      most = apart + other.by;
      witness = cable;
    }
    if (!witness) return verdict;
    const detail = `${verdict.detail}; going by ${witness.id}, only ${mm(most)} ${reason === 'too-long' ? 'less' : 'more'} would do`;
    return { ...verdict, by: most, detail };
  });
}

const beyond = (apart: number): number => (apart > 0 ? apart : Infinity);

/** Whether what is said against the first of two cables holds for the second. */
const noHarder = (first: Cable, second: Cable): boolean =>
  first.minBendRadius <= second.minBendRadius && first.tolerance <= second.tolerance;
