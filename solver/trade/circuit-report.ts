import type { CableReport } from './cable-report.js';
import type { Circuit, Thermostat } from './electrical-input.js';
import { atMost, type Figure, type Finding, figure, show } from './figure.js';
import { deviceFor, mostLoad, protectionRules } from './protection.js';
import type { RuleBook } from './rules.js';

export interface ThermostatReport {
  readonly id: string;
  readonly cables: readonly string[];
  readonly current: Figure;
  /** Least rated current of the thermostat. */
  readonly required: Figure;
  readonly findings: readonly Finding[];
}

export interface CircuitReport {
  readonly id: string;
  readonly voltage: Figure;
  readonly power: Figure;
  readonly current: Figure;
  /** Least rated current of the device and of the conductors. */
  readonly required: Figure;
  /** Smallest standard device that carries the load; null when none does. */
  readonly device: Figure | null;
  /** Most heating power on that device, or on the one given. */
  readonly mostLoad: Figure | null;
  /** Largest tripping current of the ground-fault protection. */
  readonly groundFaultTrip: Figure;
  readonly thermostats: readonly ThermostatReport[];
  readonly findings: readonly Finding[];
}

/** One circuit; `cables` holds the report of every cable on it, made for the circuit's voltage. */
export function circuitReport(
  book: RuleBook,
  circuit: Circuit,
  cables: ReadonlyMap<string, CableReport>,
): CircuitReport {
  const rules = protectionRules(book);
  const thermostats = circuit.thermostats.map((t) => thermostatReport(book, t, cables));
  const current = thermostats.reduce((sum, t) => sum + t.current.value, 0);
  const choice = deviceFor(book, current);
  const standard = choice.kind === 'device' ? choice.rating : null;
  const inPlace = circuit.device ?? standard;
  const outlets = circuit.thermostats.reduce((n, t) => n + t.cables.length, 0);
  return {
    id: circuit.id,
    voltage: figure(circuit.voltage, 'V', 'as-given'),
    power: figure(current * circuit.voltage, 'W', 'ohm', 'voltage-squared'),
    current: figure(current, 'A', 'ohm', 'voltage-squared'),
    required: figure(choice.required, 'A', rules.factorRule),
    device: standard === null ? null : figure(standard, 'A', rules.factorRule, rules.ratingsRule),
    mostLoad:
      inPlace === null
        ? null
        : figure(mostLoad(book, inPlace, circuit.voltage), 'W', rules.factorRule, 'ohm'),
    groundFaultTrip: figure(rules.trip, 'A', rules.tripRule),
    thermostats,
    findings: [
      deviceFinding(book, circuit, current),
      ...outletFindings(book, circuit, outlets, inPlace),
      groundFaultFinding(book, circuit),
    ],
  };
}

function thermostatReport(
  book: RuleBook,
  thermostat: Thermostat,
  cables: ReadonlyMap<string, CableReport>,
): ThermostatReport {
  const { share } = book.values['thermostat-capacity'];
  const current = thermostat.cables.reduce(
    (sum, id) => sum + (cables.get(id)?.currentAtSupply.value ?? 0),
    0,
  );
  const required = current / share;
  const { rating } = thermostat;
  const status = rating === null ? 'advice' : atMost(required, rating) ? 'ok' : 'refuse';
  return {
    id: thermostat.id,
    cables: thermostat.cables,
    current: figure(current, 'A', 'ohm', 'voltage-squared'),
    required: figure(required, 'A', 'thermostat-capacity', 'ohm'),
    findings: [
      {
        id: 'thermostat',
        subject: thermostat.id,
        status,
        value: required,
        limit: rating,
        unit: 'A',
        rule: 'thermostat-capacity',
        message:
          rating === null
            ? `choose a thermostat that switches at least ${show(required)} A`
            : status === 'ok'
              ? `the thermostat's ${show(rating)} A carry ${show(required)} A`
              : `the thermostat's ${show(rating)} A are less than the ${show(required)} A it has to switch: use a contactor or another thermostat`,
      },
    ],
  };
}

function deviceFinding(book: RuleBook, circuit: Circuit, current: number): Finding {
  const rules = protectionRules(book);
  const choice = deviceFor(book, current);
  const limit = circuit.device ?? (choice.kind === 'device' ? choice.rating : choice.largest);
  const base = {
    id: 'device',
    subject: circuit.id,
    value: choice.required,
    limit,
    unit: 'A',
    rule: rules.factorRule,
  } as const;
  const load = `a load of ${show(current)} A needs ${show(choice.required)} A`;
  if (circuit.device !== null) {
    if (!atMost(choice.required, circuit.device)) {
      return { ...base, status: 'refuse', message: `${load}, the device has ${show(circuit.device)} A` };
    }
    if (!rules.ratings.includes(circuit.device)) {
      return {
        ...base,
        status: 'advice',
        rule: rules.ratingsRule,
        message: `${show(circuit.device)} A is no standard rating in region ${book.region}`,
      };
    }
    return { ...base, status: 'ok', message: `${load}, the device has ${show(circuit.device)} A` };
  }
  if (choice.kind === 'none') {
    return {
      ...base,
      status: 'refuse',
      rule: rules.ratingsRule,
      message: `${load}, more than the largest standard device (${show(choice.largest)} A): divide the circuit`,
    };
  }
  return {
    ...base,
    status: 'ok',
    message: `${load}: device of ${show(choice.rating)} A, conductors for as much`,
  };
}

function outletFindings(book: RuleBook, circuit: Circuit, outlets: number, device: number | null): Finding[] {
  if (book.region !== 'NEC' || outlets < 2 || device === null) return [];
  const { rating } = book.values['multi-outlet'];
  const fits = atMost(device, rating);
  return [
    {
      id: 'multi-outlet',
      subject: circuit.id,
      status: fits ? 'ok' : 'refuse',
      value: device,
      limit: rating,
      unit: 'A',
      rule: 'multi-outlet',
      message: fits
        ? `${outlets} heating outlets on a ${show(device)} A circuit, ${show(rating)} A allowed`
        : `${outlets} heating outlets on one circuit allow at most ${show(rating)} A, not ${show(device)} A: divide the circuit`,
    },
  ];
}

function groundFaultFinding(book: RuleBook, circuit: Circuit): Finding {
  const { trip, tripRule } = protectionRules(book);
  const base = { id: 'ground-fault', subject: circuit.id, limit: trip, unit: 'A', rule: tripRule } as const;
  const needed = `ground-fault protection of at most ${show(trip * 1000)} mA`;
  if (circuit.groundFault === null) {
    return {
      ...base,
      status: 'advice',
      value: null,
      message: `${needed} is required: nothing is said about it`,
    };
  }
  if (circuit.groundFault.kind === 'none') {
    return { ...base, status: 'refuse', value: null, message: `${needed} is missing and is not optional` };
  }
  const fitted = circuit.groundFault.trip;
  return atMost(fitted, trip)
    ? { ...base, status: 'ok', value: fitted, message: `${show(fitted * 1000)} mA protection is fitted` }
    : {
        ...base,
        status: 'refuse',
        value: fitted,
        message: `${needed} is required, not ${show(fitted * 1000)} mA`,
      };
}
