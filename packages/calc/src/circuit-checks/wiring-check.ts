import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
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
  missing?: readonly MissingFigure[];
  marginAsked: number;
}

type Coil = ControlWiringInput['coils'][number];
type Conductor = ControlWiringInput['conductors'][number];

/** A figure of a wire or a device against what it may be. */
function toPair(
  kind: CheckPair['kind'],
  demand: { field: string; value: number | null; atLeast?: number | null | undefined },
  capacity: { field: string; value: number | null },
  failReason: CheckPair['failReason'],
  source: string,
  subject: FigureRef | null = null,
): CheckPair {
  return {
    kind,
    demand: same(toSpanFrom(demand.value, demand.atLeast)),
    capacity: same(toSpan(capacity.value)),
    failReason,
    subject,
    missing: listMissingOf(subject, demand, capacity),
    source,
    // Ratings of wires and devices carry their own margins: reserve, continuous load, tolerance.
    noMargin: true,
  };
}

function listOfSupply(input: ControlWiringInput): CheckPair[] {
  const load = { field: 'requiredRatingW', value: input.requiredRatingW };
  const peak = { field: 'peakLoadW', value: input.peakLoadW };
  const peakRating = { field: 'peakRatingW', value: input.peakRatingW };
  const isPeakAsked = input.peakRatingW !== null || input.isPeakAsked === true;
  return [
    toPair('power', load, { field: 'supplyRatingW', value: input.supplyRatingW }, 'supply-too-small', 'control-supply'),
    factPair(input.hasSeparateCommons, 'hasSeparateCommons', 'commons-not-separate', 'control-supply'),
    ...(input.missing ?? []).map(({ field, ref }) =>
      factPair(null, field, 'commons-not-separate', 'control-supply', ref),
    ),
    ...(isPeakAsked ? [toPair('power', peak, peakRating, 'inrush-too-large', 'control-supply')] : []),
  ];
}

function listOfCoil(coil: Coil): CheckPair[] {
  const { ref, voltageAtCoilV, ratedVoltageV, toleranceRatio } = coil;
  const highestVoltageV = coil.highestVoltageV === undefined ? voltageAtCoilV : coil.highestVoltageV;
  const isKnown = voltageAtCoilV !== null && ratedVoltageV !== null && highestVoltageV !== null;
  const deviation = isKnown ? Math.max(highestVoltageV - ratedVoltageV, ratedVoltageV - voltageAtCoilV) : null;
  const allowed = toleranceRatio === null || ratedVoltageV === null ? null : toleranceRatio * ratedVoltageV;
  const off = { field: 'voltageAtCoilV', value: deviation };
  const peak = { field: 'peakVoltageV', value: coil.peakVoltageV, atLeast: coil.peakAtLeastV };
  const outputRating = { field: 'outputRatingV', value: coil.outputRatingV };
  return [
    {
      ...toPair('voltage', off, { field: 'toleranceRatio', value: allowed }, 'voltage-at-coil', 'dc-line-drop', ref),
      missing: listMissing(
        { field: 'voltageAtCoilV', value: voltageAtCoilV, ref },
        { field: 'ratedVoltageV', value: ratedVoltageV, ref },
        { field: 'toleranceRatio', value: toleranceRatio, ref },
      ),
    },
    factPair(coil.hasSuppression, 'hasSuppression', 'no-suppression', 'coil-release', ref),
    factPair(coil.isPolarityRight, 'isPolarityRight', 'polarity', 'coil-release', ref),
    toPair('voltage', peak, outputRating, 'output-overvoltage', 'coil-release', ref),
    ...(coil.isHeldOn
      ? [factPair(coil.isRatedContinuous, 'isRatedContinuous', 'duty-not-continuous', 'coil-release', ref)]
      : []),
  ];
}

function listOfConductor({ ref, protectionA, conductorLimitA, insulationV, highestInCableV }: Conductor): CheckPair[] {
  const protection = { field: 'protectionA', value: protectionA };
  const limit = { field: 'conductorLimitA', value: conductorLimitA };
  const inCable = { field: 'highestInCableV', value: highestInCableV };
  const insulation = { field: 'insulationV', value: insulationV };
  return [
    toPair('current', protection, limit, 'protection-too-large', 'protection-choice', ref),
    toPair('voltage', inCable, insulation, 'insulation-too-low', 'protection-choice', ref),
  ];
}

/** Check 7: the control wiring: load, voltage at the coil, duty, suppression, polarity, commons, protection, insulation. */
export function checkControlWiring(input: ControlWiringInput): CircuitCheck {
  const pairs = [
    ...listOfSupply(input),
    ...input.coils.flatMap(listOfCoil),
    ...input.conductors.flatMap(listOfConductor),
  ];
  return judgePairs('control-wiring', pairs, input.marginAsked, 'missing');
}
