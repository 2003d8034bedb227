import type { Fault } from '../problems.js';
import type { CheckRequest } from '../schemas/check-request.js';
import { spacingFaults } from './spacing.js';
import { zoneFaults } from './zone.js';

/** What is wrong with a check whose fields each have the right form. The path itself is judged, not validated. */
export const checkFaults = (request: CheckRequest): readonly Fault[] => [
  ...spacingFaults(request.spacing),
  ...zoneFaults(request.zone, request.lattice.pitch, ['zone']),
];
