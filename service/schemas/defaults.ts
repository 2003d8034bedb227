/** What an optional field means when it is left out. */
export const DEFAULTS = {
  /** mm; common practice, no source. */
  clearance: 50,
  leadIn: 0,
  priorityWeight: 2,
  /** Fraction of the cable's length. */
  tolerance: 0.01,
  /** mm; common practice, no source. */
  diameter: 5,
  /** Smallest bend radius as a multiple of the diameter; common practice, no source. */
  bendPerDiameter: 6,
  coldLead: 3000,
  slopPerTurn: 2,
  /** mm2 of unheated floor that one turn fewer is worth. */
  turnWeight: 1000,
  effort: 'normal',
  display: 'metric',
} as const;
