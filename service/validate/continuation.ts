import { latticeRule } from '../../solver/check/lattice-rules.js';
import { markLength } from '../../solver/continue/laid-part.js';
import type { Fault } from '../problems.js';
import type { ContinuationRequest } from '../schemas/continuation-request.js';
import { duplicateIds } from './duplicates.js';
import { spacingFaults } from './spacing.js';
import { zoneFaults } from './zone.js';

const cableFaults = ({ cable, catalogue }: ContinuationRequest): readonly Fault[] =>
  typeof cable !== 'string' || catalogue.some(({ id }) => id === cable)
    ? []
    : [
        {
          pointer: '/cable',
          detail: `cable is "${cable}", which the catalogue does not hold; use the id of one of its entries, or send the cable itself.`,
        },
      ];

const readingFaults = ({ reading }: ContinuationRequest['laid']): readonly Fault[] => {
  if (reading === undefined || markLength(reading) >= 0) return [];
  const { mark, start, direction } = reading;
  return [
    {
      pointer: '/laid/reading/mark',
      detail: `laid.reading.mark is ${mark} m, but marks run ${direction} from ${start} m; give a mark that lies ${direction === 'up' ? 'above' : 'below'} it, or correct the direction.`,
    },
  ];
};

const plannedFaults = ({ planned, lattice }: ContinuationRequest): readonly Fault[] => {
  const [first] = planned === undefined ? [] : latticeRule(lattice, planned).violations;
  return first === undefined
    ? []
    : [
        {
          pointer: '/planned',
          detail: `planned is not drawn on the lattice: ${first.message} Send path and reserve of a layout as they were answered, or leave it out.`,
        },
      ];
};

/** What is wrong with a request whose fields each have the right form. The laid path is judged in the solver. */
export const continuationFaults = (request: ContinuationRequest): readonly Fault[] => [
  ...spacingFaults(request.spacing),
  ...duplicateIds(request.catalogue, ['catalogue']),
  ...cableFaults(request),
  ...readingFaults(request.laid),
  ...plannedFaults(request),
  ...zoneFaults(request.zone, request.lattice.pitch, ['zone']),
];
