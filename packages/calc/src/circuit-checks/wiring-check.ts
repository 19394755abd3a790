import type { FigureRef, LadderMissing } from '../pressure-ladder/pressure-ladder.types.js';
import { toSpan } from '../pressure-ladder/span.js';
import type { CircuitCheck } from './circuit-checks.types.js';
import { factPair, judgePairs, listMissing, listMissingOf, same, toSpanFrom, type CheckPair } from './judge-pairs.js';

export interface ControlWiringInput {
  /** 24 V supply: what is asked for with reserve, and what it gives [W] */
  requiredRatingW: number | null;
  supplyRatingW: number | null;
  peakLoadW: number | null;
  /** null: not known, or, where inrush is not asked for, the supply's maker states none */
  peakRatingW: number | null;
  /** the supply must bear the inrush; left out: only where its maker says what it bears */
  isPeakAsked?: boolean;
  coils: readonly {
    ref: FigureRef;
    voltageAtCoilV: number | null;
    /** highest voltage at the coil: of the supply, with no loss on the way; left out: the one above */
    highestVoltageV?: number | null;
    ratedVoltageV: number | null;
    /** share of the rated voltage that it may differ [1] */
    toleranceRatio: number | null;
    isRatedContinuous: boolean | null;
    /** held on for longer than its duty allows otherwise */
    isHeldOn: boolean;
    hasSuppression: boolean | null;
    peakVoltageV: number | null;
    /** what the peak is at least, where the whole is not known [V]; left out: nothing is known of it */
    peakAtLeastV?: number | null;
    outputRatingV: number | null;
    isPolarityRight: boolean | null;
  }[];
  /** outputs and inputs on separate commons */
  hasSeparateCommons: boolean | null;
  conductors: readonly {
    ref: FigureRef;
    protectionA: number | null;
    conductorLimitA: number | null;
    /** rated voltage of this core's insulation, and the highest voltage in its cable [V] */
    insulationV: number | null;
    highestInCableV: number | null;
  }[];
  /** signals and wires that are not recorded; left out: all are */
  missing?: readonly LadderMissing[];
  marginAsked: number;
}

/** Check 7: the control wiring: load, voltage at the coil, duty, suppression, polarity, commons, protection, insulation. */
export function checkControlWiring(input: ControlWiringInput): CircuitCheck {
  const { coils, conductors, hasSeparateCommons, marginAsked } = input;
  const pair = (
    kind: CheckPair['kind'],
    demand: { field: string; value: number | null; atLeast?: number | null | undefined },
    capacity: { field: string; value: number | null },
    failReason: CheckPair['failReason'],
    source: string,
    subject: FigureRef | null = null,
  ): CheckPair => ({
    kind,
    demand: same(toSpanFrom(demand.value, demand.atLeast)),
    capacity: same(toSpan(capacity.value)),
    failReason,
    subject,
    missing: listMissingOf(subject, demand, capacity),
    source,
    // Ratings of wires and devices carry their own margins: reserve, continuous load, tolerance.
    noMargin: true,
  });
  const pairs: CheckPair[] = [
    {
      ...pair(
        'power',
        { field: 'requiredRatingW', value: input.requiredRatingW },
        { field: 'supplyRatingW', value: input.supplyRatingW },
        'supply-too-small',
        'control-supply',
      ),
    },
    factPair(hasSeparateCommons, 'hasSeparateCommons', 'commons-not-separate', 'control-supply'),
  ];
  for (const { field, ref } of input.missing ?? []) {
    pairs.push(factPair(null, field, 'commons-not-separate', 'control-supply', ref));
  }
  if (input.peakRatingW !== null || input.isPeakAsked === true) {
    const demand = { field: 'peakLoadW', value: input.peakLoadW };
    pairs.push(
      pair('power', demand, { field: 'peakRatingW', value: input.peakRatingW }, 'inrush-too-large', 'control-supply'),
    );
  }
  for (const coil of coils) {
    const { ref, voltageAtCoilV, ratedVoltageV, toleranceRatio } = coil;
    const highestVoltageV = coil.highestVoltageV === undefined ? voltageAtCoilV : coil.highestVoltageV;
    const isKnown = voltageAtCoilV !== null && ratedVoltageV !== null && highestVoltageV !== null;
    const deviation = isKnown ? Math.max(highestVoltageV - ratedVoltageV, ratedVoltageV - voltageAtCoilV) : null;
    const allowed = toleranceRatio === null || ratedVoltageV === null ? null : toleranceRatio * ratedVoltageV;
    pairs.push(
      {
        ...pair(
          'voltage',
          { field: 'voltageAtCoilV', value: deviation },
          { field: 'toleranceRatio', value: allowed },
          'voltage-at-coil',
          'dc-line-drop',
          ref,
        ),
        missing: listMissing(
          { field: 'voltageAtCoilV', value: voltageAtCoilV, ref },
          { field: 'ratedVoltageV', value: ratedVoltageV, ref },
          { field: 'toleranceRatio', value: toleranceRatio, ref },
        ),
      },
      factPair(coil.hasSuppression, 'hasSuppression', 'no-suppression', 'coil-release', ref),
      factPair(coil.isPolarityRight, 'isPolarityRight', 'polarity', 'coil-release', ref),
      pair(
        'voltage',
        { field: 'peakVoltageV', value: coil.peakVoltageV, atLeast: coil.peakAtLeastV },
        { field: 'outputRatingV', value: coil.outputRatingV },
        'output-overvoltage',
        'coil-release',
        ref,
      ),
    );
    if (coil.isHeldOn)
      pairs.push(factPair(coil.isRatedContinuous, 'isRatedContinuous', 'duty-not-continuous', 'coil-release', ref));
  }
  for (const { ref, protectionA, conductorLimitA, insulationV, highestInCableV } of conductors) {
    pairs.push(
      pair(
        'current',
        { field: 'protectionA', value: protectionA },
        { field: 'conductorLimitA', value: conductorLimitA },
        'protection-too-large',
        'protection-choice',
        ref,
      ),
      pair(
        'voltage',
        { field: 'highestInCableV', value: highestInCableV },
        { field: 'insulationV', value: insulationV },
        'insulation-too-low',
        'protection-choice',
        ref,
      ),
    );
  }
  return judgePairs('control-wiring', pairs, marginAsked, 'missing');
}
