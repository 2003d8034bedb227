import { materialProblems } from '../../solver/trade/material-input.js';
import { type OverrideProblem, ruleValues } from '../../solver/trade/rules.js';
import { SIZES } from '../limits.js';
import type { Fault } from '../problems.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { materialInput } from '../translate/materials.js';
import { duplicateIds } from './duplicates.js';
import { fieldName, jsonPointer, type PathPart } from './pointer.js';
import { spacingFaults } from './spacing.js';
import { verticesOf, zoneFaults } from './zone.js';

const insistedFaults = (request: LayoutRequest): readonly Fault[] => {
  const known = new Set(request.catalogue.map(({ id }) => id));
  return request.zones.flatMap(({ cable }, k) =>
    cable === undefined || known.has(cable)
      ? []
      : [
          {
            pointer: `/zones/${k}/cable`,
            detail: `zones[${k}].cable is "${cable}", which the catalogue does not hold; use the id of one of its entries.`,
          },
        ],
  );
};

const sensorFaults = (request: LayoutRequest): readonly Fault[] =>
  request.zones.flatMap(({ sensor, wet }, k) => {
    if (sensor?.wanted !== true) return [];
    const fault = (says: string): Fault => ({
      pointer: `/zones/${k}/sensor`,
      detail: `zones[${k}].sensor ${says}`,
    });
    if (wet) return [fault('is wanted in a wet zone; ask for it on a dry floor.')];
    return request.thermostat === undefined
      ? [fault('needs a thermostat for its lead; add thermostat to the request.')]
      : [];
  });

const faultAt = (path: readonly PathPart[], message: string): Fault => ({
  pointer: jsonPointer(path),
  detail: `${fieldName(path)} ${message}.`,
});

const overrideFaults = (problems: readonly OverrideProblem[], part: string): readonly Fault[] =>
  problems.map(({ rule, value, message }) =>
    faultAt([part, 'overrides', rule, ...(value === null ? [] : [value])], message),
  );

const supplyFaults = ({ supply }: LayoutRequest): readonly Fault[] => {
  if (supply === undefined) return [];
  const resolution = ruleValues(supply.region, supply.overrides);
  return resolution.kind === 'resolved' ? [] : overrideFaults(resolution.problems, 'supply');
};

/** Faults of what the quantities are reckoned from; outlines are looked at elsewhere. */
const materialFaults = (request: LayoutRequest): readonly Fault[] => {
  const input = materialInput(request, [], new Map());
  if (input === null) return [];
  const resolution = ruleValues(input.region, input.overrides);
  if (resolution.kind === 'refused') return overrideFaults(resolution.problems, 'materials');
  return materialProblems(input)
    .filter(({ path }) => path[0] === 'membrane')
    .map(({ path, message }) => faultAt(['materials', ...path], message));
};

/** What is wrong with a request whose fields each have the right form; cheap, and before any solver work. */
export const layoutFaults = (request: LayoutRequest): readonly Fault[] => {
  const vertices = request.zones.reduce((sum, zone) => sum + verticesOf(zone), 0);
  if (vertices > SIZES.verticesInAll) {
    return [
      {
        pointer: '/zones',
        detail: `zones have ${vertices} vertices in all their outlines together; at most ${SIZES.verticesInAll} are allowed. Leave out vertices that do not matter.`,
      },
    ];
  }
  return [
    ...spacingFaults(request.spacing),
    ...duplicateIds(request.zones, ['zones']),
    ...duplicateIds(request.catalogue, ['catalogue']),
    ...insistedFaults(request),
    ...sensorFaults(request),
    ...supplyFaults(request),
    ...materialFaults(request),
    ...request.zones.flatMap((zone, k) => zoneFaults(zone, request.lattice.pitch, ['zones', k])),
  ];
};
