import type { ZonePlan } from '../../solver/plan-types.js';
import { type ElectricalReport, electricalReport } from '../../solver/trade/electrical.js';
import type { CableLoad, ElectricalInput } from '../../solver/trade/electrical-input.js';
import { type RuleBook, ruleValues } from '../../solver/trade/rules.js';
import type { Supply } from '../schemas/supply.js';

/** Electrical side of a layout: the report, its cables named after their zones, and the rules it stands on. */
export interface LayoutElectrics {
  readonly report: ElectricalReport;
  readonly book: RuleBook;
}

const loadOf = ({ zone, cable, check }: ZonePlan, supply: Supply, byArea: boolean): CableLoad => {
  const { coverage } = check;
  const spacing = check.rules.find(({ rule }) => rule === 'spacing');
  return {
    id: zone.id,
    power: cable.power,
    voltage: cable.voltage,
    length: cable.length,
    labelResistance: null,
    alloy: supply.alloy,
    braid: supply.braid,
    earthedGrid: false,
    wet: zone.wet,
    density: byArea ? { kind: 'area', area: coverage.heatedArea + coverage.bufferHeatedArea } : null,
    closestRuns: spacing !== undefined && Number.isFinite(spacing.worst) ? spacing.worst : null,
    floorTemperature: null,
    floor: supply.floor,
  };
};

const inputOf = (plans: readonly ZonePlan[], supply: Supply, byArea: boolean): ElectricalInput => ({
  region: supply.region,
  overrides: supply.overrides,
  cables: plans.map((plan) => loadOf(plan, supply, byArea)),
  circuits: [
    {
      id: supply.circuit,
      voltage: supply.voltage,
      device: supply.device,
      groundFault: supply.groundFaultTrip === null ? null : { kind: 'fitted', trip: supply.groundFaultTrip },
      thermostats: [
        { id: 'thermostat', rating: supply.thermostatRating, cables: plans.map(({ zone }) => zone.id) },
      ],
    },
  ],
});

/**
 * The electrical report of planned zones; null where the figures of a layout lie outside what the report takes. A
 * heated area too odd for a mean spacing is left out rather than the whole report.
 */
export const electricsOf = (plans: readonly ZonePlan[], supply: Supply): LayoutElectrics | null => {
  const resolution = ruleValues(supply.region, supply.overrides);
  if (resolution.kind === 'refused') return null;
  for (const byArea of [true, false]) {
    const report = electricalReport(inputOf(plans, supply, byArea));
    if (report.kind === 'report') return { report, book: resolution.book };
  }
  return null;
};
