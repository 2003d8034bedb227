import { type Figure, figure, show } from './figure.js';
import type { CableReadings, ConductorReading, InsulationReading } from './readings-input.js';
import { coefficientOf, resistanceBand, resistanceOf, temperatureFactor } from './resistance.js';
import type { RuleBook } from './rules.js';
import { type Judgement, type Reason, type Verdict, worseOf } from './verdict.js';

const megohm = (ohm: number): string => `${show(ohm / 1e6)} Mohm`;

/** ohm at 20 C. */
export function nominalResistance(cable: CableReadings): Figure {
  return cable.nominal.kind === 'resistance'
    ? figure(cable.nominal.resistance, 'ohm', 'as-given')
    : figure(resistanceOf(cable.nominal.power, cable.nominal.voltage), 'ohm', 'ohm');
}

/** What a conductor reading would be at 20 C, ohm; null when the circuit is open. */
export function correctedTo20(
  book: RuleBook,
  cable: CableReadings,
  reading: ConductorReading,
): number | null {
  if (reading.resistance === 'open') return null;
  return (
    reading.resistance / temperatureFactor(coefficientOf(book, cable.alloy).perKelvin, reading.temperature)
  );
}

/** `first` is the corrected resistance of the earliest round with one, null for that round itself. */
export function judgeConductor(
  book: RuleBook,
  cable: CableReadings,
  reading: ConductorReading,
  first: number | null,
): Judgement {
  const nominal = nominalResistance(cable);
  const band = resistanceBand(book, nominal.value);
  const alloy = coefficientOf(book, cable.alloy);
  const factor = temperatureFactor(alloy.perKelvin, reading.temperature);
  const limits: Record<string, Figure> = {
    nominal,
    bandLow: figure(band.low, 'ohm', 'resistance-band'),
    bandHigh: figure(band.high, 'ohm', 'resistance-band'),
    expectedLow: figure(band.low * factor, 'ohm', 'resistance-band', alloy.rule),
    expectedHigh: figure(band.high * factor, 'ohm', 'resistance-band', alloy.rule),
  };
  const at20 = correctedTo20(book, cable, reading);
  if (at20 === null) {
    return {
      what: 'conductor',
      verdict: 'stop',
      reasons: [
        {
          rule: 'resistance-band',
          message: 'the heating conductor is open: broken, or the meter makes no contact',
        },
      ],
      figures: limits,
      next: 'Check the leads and the meter on a known resistor and read again; if it stays open the cable is broken: do not cover it.',
    };
  }
  const reasons: Reason[] = [];
  let verdict: Verdict = 'pass';
  const within = at20 >= band.low * (1 - 1e-9) && at20 <= band.high * (1 + 1e-9);
  const range = `${show(band.low)} ... ${show(band.high)} ohm`;
  if (within) {
    reasons.push({ rule: 'resistance-band', message: `${show(at20)} ohm at 20 C lies in ${range}` });
  } else {
    verdict = 'stop';
    reasons.push({
      rule: 'resistance-band',
      message: `${show(at20)} ohm at 20 C is outside ${range}${likelyCause(at20 / nominal.value)}`,
    });
  }
  const figures: Record<string, Figure> = { ...limits, at20: figure(at20, 'ohm', alloy.rule) };
  if (first !== null) {
    const drift = first > 0 ? at20 / first - 1 : Number.POSITIVE_INFINITY;
    const { investigate, stop } = book.values['resistance-drift'];
    if (Number.isFinite(drift)) figures.drift = figure(drift, 'ratio', 'resistance-drift', alloy.rule);
    const size = Math.abs(drift);
    const judged: Verdict = size > stop ? 'stop' : size > investigate ? 'investigate' : 'pass';
    verdict = worseOf(verdict, judged);
    reasons.push({
      rule: 'resistance-drift',
      message: Number.isFinite(drift)
        ? `${show(drift * 100)} % against the first round (${judged === 'pass' ? 'up to' : 'more than'} ${show((judged === 'stop' ? stop : investigate) * 100)} %)`
        : 'the first round read zero ohm: nothing to compare with',
    });
  }
  return { what: 'conductor', verdict, reasons, figures, next: NEXT_CONDUCTOR[verdict] };
}

const NEXT_CONDUCTOR: Readonly<Record<Verdict, string>> = {
  pass: 'Write the reading into the test record.',
  investigate:
    'Read again with the cable and the meter at one known temperature, leads zeroed; go on only when it repeats.',
  stop: 'Compare with the label, read again with the leads zeroed; if it stays outside, do not cover the cable and do not power it.',
};

function likelyCause(ratio: number): string {
  if (ratio < 0.02) return ': the conductor is shorted, or the braid was measured';
  if (Math.abs(ratio - 0.25) <= 0.025) return ': a quarter of nominal, as a cable for half the voltage reads';
  if (Math.abs(ratio - 4) <= 0.4) return ': four times nominal, as a cable for twice the voltage reads';
  return ratio < 1
    ? ': part of the conductor is bypassed, or it is another cable'
    : ': poor contact, or another cable';
}

export function judgeInsulation(book: RuleBook, reading: InsulationReading): Judgement {
  const least = book.values['insulation-minimum'];
  const expected = book.values['insulation-expected'].resistance;
  const most = book.values['insulation-test-voltage'].most;
  const value = reading.resistance === 'over-range' ? Number.POSITIVE_INFINITY : reading.resistance;
  const reasons: Reason[] = [];
  let verdict: Verdict = 'pass';
  if (value < least.resistance) {
    verdict = 'stop';
    reasons.push({
      rule: 'insulation-minimum',
      message: `${megohm(value)} is below the legal minimum of ${megohm(least.resistance)}`,
    });
  } else if (value < expected) {
    verdict = 'investigate';
    reasons.push({
      rule: 'insulation-expected',
      message: `${megohm(value)} meets the legal minimum, but a sound cable shows at least ${megohm(expected)}`,
    });
  } else {
    reasons.push({
      rule: 'insulation-expected',
      message: `${reading.resistance === 'over-range' ? 'beyond the tester' : megohm(value)}, at least ${megohm(expected)} expected`,
    });
  }
  if (reading.testVoltage < least.testVoltage) {
    verdict = worseOf(verdict, 'investigate');
    reasons.push({
      rule: 'insulation-minimum',
      message: `tested at ${show(reading.testVoltage)} V, which proves nothing: ${show(least.testVoltage)} V d.c. are asked for`,
    });
  }
  if (reading.testVoltage > most) {
    verdict = worseOf(verdict, 'investigate');
    reasons.push({
      rule: 'insulation-test-voltage',
      message: `tested at ${show(reading.testVoltage)} V, more than ${show(most)} V: see whether the cable is made for it`,
    });
  }
  return {
    what: 'insulation',
    verdict,
    reasons,
    figures: {
      legalMinimum: figure(least.resistance, 'ohm', 'insulation-minimum'),
      expected: figure(expected, 'ohm', 'insulation-expected'),
      testVoltage: figure(least.testVoltage, 'V', 'insulation-minimum'),
    },
    next: NEXT_INSULATION[verdict],
  };
}

const NEXT_INSULATION: Readonly<Record<Verdict, string>> = {
  pass: 'Discharge the cable after the test and write the reading into the test record.',
  investigate:
    'Discharge, dry and clean the lead ends, let fresh mortar dry, test again at the right voltage; go on only when the reason is known.',
  stop: 'Discharge the cable and do not power it: the insulation is damaged or wet. Find the place before anything covers it.',
};

/** Conductor to braid with an ordinary meter: they must not be connected. */
export function judgeBraid(book: RuleBook, reading: number | 'open'): Judgement {
  const { leakBelow } = book.values['braid-separation'];
  const verdict: Verdict = reading === 'open' ? 'pass' : reading < leakBelow ? 'stop' : 'investigate';
  const message =
    reading === 'open'
      ? 'no connection between conductor and braid'
      : verdict === 'stop'
        ? `conductor and braid are connected (${show(reading)} ohm)`
        : `the meter shows ${megohm(reading)} where it should show none: damp ends, or fingers on the probes`;
  return {
    what: 'braid',
    verdict,
    reasons: [{ rule: 'braid-separation', message }],
    figures: { leakBelow: figure(leakBelow, 'ohm', 'braid-separation') },
    next: NEXT_BRAID[verdict],
  };
}

const NEXT_BRAID: Readonly<Record<Verdict, string>> = {
  pass: 'Go on to the insulation test.',
  investigate: 'Dry and part the lead ends, read again, then rely on the insulation test at 500 V.',
  stop: 'Part the lead ends and read again; if it stays, the cable is damaged: do not cover it and do not power it.',
};
