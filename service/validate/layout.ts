import { ruleValues } from '../../solver/trade/rules.js';
import { SIZES } from '../limits.js';
import type { Fault } from '../problems.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { duplicateIds } from './duplicates.js';
import { fieldName, jsonPointer } from './pointer.js';
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

const supplyFaults = ({ supply }: LayoutRequest): readonly Fault[] => {
  if (supply === undefined) return [];
  const resolution = ruleValues(supply.region, supply.overrides);
  if (resolution.kind === 'resolved') return [];
  return resolution.problems.map(({ rule, value, message }) => {
    const path = ['supply', 'overrides', rule, ...(value === null ? [] : [value])];
    return { pointer: jsonPointer(path), detail: `${fieldName(path)} ${message}.` };
  });
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
    ...request.zones.flatMap((zone, k) => zoneFaults(zone, request.lattice.pitch, ['zones', k])),
  ];
};
