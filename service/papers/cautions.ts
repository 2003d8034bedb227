/** One line for every drawing. */
export const BRIEF_CAUTION =
  'A plan, not an approval: local code, the inspector and the instructions of cable and membrane come first. ' +
  'Never power a cable that is coiled, on the spool or uncovered. Never cut, shorten, splice, cross or bunch the ' +
  'heating part. Connection and protection: licensed electrician.';

export interface Caution {
  readonly head: string;
  readonly text: string;
  /** Printed with weight: this one can hurt someone. */
  readonly grave: boolean;
}

/** Printed in full on the last page of every sheet. */
export const CAUTIONS: readonly Caution[] = [
  {
    head: 'Local rules come first',
    text: 'This is a plan, not an approval. The code in force where you build, the inspector, and the instructions of the cable and the membrane in your hand override every figure in it.',
    grave: true,
  },
  {
    head: 'Showers need approval',
    text: 'Heating in a shower is laid only with the approval of the authority having jurisdiction, and only with a cable, a joint and a membrane that are rated for it.',
    grave: true,
  },
  {
    head: 'Licensed electrician',
    text: 'The final connection, the protective device and the ground-fault protection are the work of a licensed electrician. Nobody else makes them.',
    grave: true,
  },
  {
    head: 'Ground-fault protection',
    text: 'It is not optional: no heated floor is switched on without it.',
    grave: true,
  },
  {
    head: 'Never power a coiled cable',
    text: 'A cable that is coiled, still on the spool, or not yet buried in mortar burns. Not even for a moment, not even to see whether it works: the meter tells that.',
    grave: true,
  },
  {
    head: 'The heating part stays whole',
    text: 'Never cut, shorten or splice it, never let it cross or touch itself, never bunch it. Length left over goes into the reserve strip, laid apart like the rest.',
    grave: true,
  },
  {
    head: 'Measure three times',
    text: 'Read conductor, insulation and sensor off the spool, after laying and after tiling. A reading outside its band stops the work until the cause is found.',
    grave: false,
  },
  {
    head: 'Match the voltage',
    text: 'The supply must have the voltage printed on the label. On twice the voltage the cable takes four times its power and is destroyed.',
    grave: false,
  },
  {
    head: 'Let the mortar cure',
    text: 'First heat only after the mortar, grout and levelling have cured for the time their makers state.',
    grave: false,
  },
  {
    head: 'Keep the as-built drawing',
    text: 'Mark every change on the plan and leave it with the owner and at the panel. Nobody drills into or fixes through a heated floor without it.',
    grave: false,
  },
  {
    head: 'Temperatures are estimates',
    text: 'Surface temperatures in this sheet are calculated from assumptions, not promised. A limiter or a floor sensor governs the real floor.',
    grave: false,
  },
];
