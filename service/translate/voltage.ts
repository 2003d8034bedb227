import type { CableVerdict } from '../../solver/plan-types.js';
import type { Cable } from '../../solver/problem.js';
import { show } from '../../solver/trade/figure.js';
import { powerShare } from '../../solver/trade/resistance.js';
import { ruleValues } from '../../solver/trade/rules.js';
import type { Problem } from '../problems.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import { wireVerdict } from './layout-answer.js';

/** Cables that suit the supply, and the verdicts on the others. */
export interface VoltageSplit {
  readonly suited: readonly Cable[];
  readonly verdicts: readonly CableVerdict[];
}

/** Without a supply every cable suits: its voltage is then the electrician's to match. */
export const byVoltage = (request: LayoutRequest, catalogue: readonly Cable[]): VoltageSplit => {
  const { supply } = request;
  if (supply === undefined) return { suited: catalogue, verdicts: [] };
  const resolution = ruleValues(supply.region, supply.overrides);
  const tolerance = resolution.kind === 'resolved' ? resolution.book.values['voltage-match'].tolerance : 0;
  const suits = ({ voltage }: Cable): boolean => Math.abs(supply.voltage / voltage - 1) <= tolerance + 1e-9;
  const verdict = (zone: string, { id, power, voltage }: Cable): CableVerdict => {
    const share = powerShare(voltage, supply.voltage);
    return {
      zone,
      cable: id,
      fits: false,
      chosen: false,
      reason: 'voltage',
      by: null,
      coverage: null,
      turns: null,
      detail: `the label says ${show(voltage)} V, the supply is ${show(supply.voltage)} V: it would give ${show(power * share)} W instead of ${show(power)} W`,
    };
  };
  const verdicts = request.zones.flatMap(({ id, cable: insisted }) =>
    catalogue
      .filter((cable) => !suits(cable) && (insisted === undefined || insisted === cable.id))
      .map((cable) => verdict(id, cable)),
  );
  return { suited: catalogue.filter(suits), verdicts };
};

/** The problem where a zone is left without any cable for its supply; null where each has one. */
export const voltageProblem = (
  request: LayoutRequest,
  { suited, verdicts }: VoltageSplit,
): Problem | null => {
  const without = request.zones.filter(
    ({ cable }) => !suited.some(({ id }) => cable === undefined || cable === id),
  );
  if (without.length === 0) return null;
  const names = without.map(({ id }) => `zone "${id}"`).join(', ');
  const voltage = request.supply?.voltage ?? 0;
  return {
    slug: 'impossible-layout',
    detail: `No cable offered for ${names} is made for the supply of ${show(voltage)} V.`,
    errors: [
      {
        pointer: '/supply/voltage',
        detail: `supply.voltage is ${show(voltage)} V, which no cable offered for ${names} is made for; give the voltage on the cable's label, or cables for this supply.`,
      },
    ],
    members: {
      cables: verdicts.filter(({ zone }) => without.some(({ id }) => id === zone)).map(wireVerdict),
    },
  };
};
