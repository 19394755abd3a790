import type { CheckCode, CheckReason } from '../circuit-checks/checks.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { mayBeIn, refOf } from '../circuit-facts/component-figures.js';
import { findSwitches } from '../circuit-facts/pressure-ladder-input.js';
import { toReliefs } from '../circuit-facts/reliefs.js';
import { isReliefOfTrapped } from '../pressure-ladder/relief-bounds.js';
import type { FigureRef, ProvedCheck } from '../pressure-ladder/pressure-ladder.types.js';
import {
  ofAnswer,
  ofCircuit,
  ofComponent,
  ofKind,
  ofMachine,
  ofPowerUnit,
  ofRating,
  ofReadings,
  ofSettings,
  ofSignal,
  ofSprings,
  ofSubject,
  ofWire,
  ofWires,
  toLever,
  type Lever,
} from './levers.js';
import { listInterlockLevers, listSharing } from './interlock-levers.js';

/** What of a check does not hold. */
export interface BadPair {
  code: CheckCode;
  reason: CheckReason;
  subject: FigureRef | null;
  governing: ProvedCheck['governing'];
}

export const keyOf = ({ code, reason, subject, governing }: BadPair): string =>
  [code, reason, subject?.id, subject?.name, governing].join();

/** Every part of a check that does not hold. */
export function listBadPairs({ code, status, reason, subject, pairs, governing }: ProvedCheck): BadPair[] {
  const all = code === 'holds-workpiece' || pairs === undefined ? [{ status, reason, subject }] : pairs;
  return all
    .filter((pair) => pair.status === 'fails' || pair.status === 'marginal')
    .map((pair) => ({ code, reason: pair.reason, subject: pair.subject, governing }));
}

type Mend = (facts: CircuitFacts, pair: BadPair) => Lever[];

const moveSwitch: Mend = ({ components }) =>
  findSwitches(components)
    .filter(
      ({ sensing, isBeyondShutOff }) => sensing !== null && (sensing !== 'clamp-line' || isBeyondShutOff === false),
    )
    .map((each) => toLever('move-switch', { holder: 'component', id: each.id, field: 'sensing', ref: refOf(each) }));

/** A relief keeps what lies between its opening and its full flow; of one that is fitted it is this much, and as much to where it shuts again. */
const FITTED_APART_PA = 20e5;
const reliefOf: Mend = ({ components }) =>
  components
    .filter((one) => one.kind === 'relief-valve' && (mayBeIn(one, 'supply') || mayBeIn(one, 'clamp')))
    .flatMap((relief) => {
      const { openingPressure = null, fullFlowPressure = null } = relief.figures;
      if (openingPressure === null || fullFlowPressure === null) return [];
      const apart = Math.max(0, fullFlowPressure - openingPressure);
      const at = { holder: 'component', id: relief.id, field: 'openingPressure', ref: refOf(relief) } as const;
      return [toLever('relief', { ...at, from: openingPressure, apart })];
    });
/** Unless there is one already that holds it back. */
const fitRelief: Mend = (facts, { governing }) =>
  toReliefs(facts).some((relief) => {
    if (governing === 'trapped-oil') return isReliefOfTrapped(relief);
    return (governing ?? 'source') === 'source' ? relief.relievesSource : relief.relievesTrappedOil;
  })
    ? []
    : [toLever('fit-relief', { holder: 'component', field: 'openingPressure', apart: FITTED_APART_PA })];

const keepUnclampOpen: Mend = ({ circuit }) =>
  ofAnswer(
    'keep-unclamp-open',
    'circuit',
    'unclampLineCanBlock',
    circuit.unclampLineCanBlock === false ? null : false,
  ).map((lever): Lever => ({ ...lever, choice: 'false' }));

const HIGHEST: Readonly<Record<NonNullable<ProvedCheck['governing']>, Mend>> = {
  source: (facts, pair) => [
    ...reliefOf(facts, pair),
    ...fitRelief(facts, pair),
    ...ofRating(facts, pair.subject),
    ...ofPowerUnit(facts)('plant-air-high', 'plantAirHighPa'),
  ],
  'trapped-oil': (facts, pair) => [
    ...reliefOf(facts, pair),
    ...fitRelief(facts, pair),
    ...ofRating(facts, pair.subject),
  ],
  intensified: (facts, pair) => [
    ...reliefOf(facts, pair),
    ...keepUnclampOpen(facts, pair),
    ...ofRating(facts, pair.subject),
    ...fitRelief(facts, pair),
  ],
  'relief-opening': reliefOf,
  'return-line': (facts, pair) => ofRating(facts, pair.subject),
};

const SUPPORT = { component: 'loadCapacity', element: 'ratedForceN' } as const;
const sequence: Mend = ({ components }) => {
  const [valve] = components.filter(({ kind, place }) => kind === 'sequence-valve' && place === 'circuit');
  const at = { holder: 'component', field: 'openingPressure' } as const;
  if (valve === undefined) return [toLever('fit-sequence-valve', at)];
  const from = valve.figures.openingPressure ?? null;
  return from === null ? [] : [toLever('sequence-valve', { ...at, id: valve.id, ref: refOf(valve), from })];
};

/** The coil's own figures: of the valve that they belong to. */
const coil =
  (code: 'coil-voltage' | 'coil-tolerance' | 'coil-duty', field: string): Mend =>
  (facts) =>
    ofKind(facts, 'directional-valve', code, field);
const suppressionVoltage: Mend = (facts, { subject }) => {
  const signal = ofSignal(facts, subject);
  const from = signal?.suppressionVoltageV ?? null;
  const at = { holder: 'signal', id: signal?.id ?? '', field: 'suppressionVoltageV', ref: subject } as const;
  return from === null ? [] : [toLever('suppression-voltage', { ...at, from })];
};

const keepLonger: Mend = (facts) => [
  ...ofCircuit(facts)('time-without', 'timeWithoutSupplyS'),
  ...ofReadings(facts)('leak', 'decayPa'),
  ...ofCircuit(facts)('return-pressure', 'returnPressurePa'),
];
/** Where the flow is held back on the way there, or back. */
const ofFlow = (facts: CircuitFacts, code: 'flow-to-cylinders' | 'flow-from-cylinders', field: string): Lever[] =>
  ofKind(facts, 'flow-control-valve', code, field);
const ofBores = ({ components }: CircuitFacts, lineFunction: 'clamp' | 'unclamp'): Lever[] =>
  components
    .filter(
      ({ kind, place, lineFunctions }) =>
        kind === 'hose' && place === 'circuit' && lineFunctions.includes(lineFunction),
    )
    .flatMap((hose) => ofComponent(hose, 'line-bore', 'innerDiameter'));
const clampSooner: Mend = (facts) => [
  ...ofCircuit(facts)('clamp-time', 'clampTimeAllowedS'),
  ...ofFlow(facts, 'flow-to-cylinders', 'flowToCylinders'),
  ...ofBores(facts, 'clamp'),
];
/** By the gauge of the last readings, or by the one that is fitted. */
const gaugeOf: Mend = (facts) => [
  ...ofReadings(facts)('gauge-class', 'gaugeClass'),
  ...ofKind(facts, 'gauge', 'gauge-class', 'accuracyClass'),
];
const unclampSooner: Mend = (facts) => [
  ...ofCircuit(facts)('unclamp-time', 'unclampTimeAllowedS'),
  ...ofCircuit(facts)('return-pressure', 'returnPressurePa'),
  ...ofSprings(facts),
  ...ofFlow(facts, 'flow-from-cylinders', 'flowFromCylinders'),
  ...ofBores(facts, 'unclamp'),
];

/** Oil of the clamps comes back through it. */
const holdsBack = ({ kind, place, lineFunctions }: CircuitFacts['components'][number]): boolean =>
  kind === 'flow-control-valve' &&
  place === 'circuit' &&
  (lineFunctions.includes('clamp') || lineFunctions.includes('tank'));
const swingSlower: Mend = (facts, { subject }) =>
  ofSubject(facts, subject, 'highest-flow', { component: 'highestFlow', element: 'highestFlowM3PerS' });

/** By the reason that a part of a check gives; those of the pressures that are set are looked for apart. */
const MENDS: Partial<Readonly<Record<CheckReason, Mend>>> = {
  'switch-senses-supply': moveSwitch,
  'switch-without-movement': keepUnclampOpen,
  // Its air goes with it.
  'stall-above-setting': (facts) => ofSettings(facts)('setting', 'settingPa'),
  'above-rating': (facts, { subject }) => ofRating(facts, subject),
  // A flow fuse, or a hose burst valve: it lets out so much and no more.
  'burst-hose': (facts, { subject }) =>
    ofComponent(
      facts.components.find(({ id }) => id === subject?.id),
      'burst-flow',
      'burstFlow',
    ),
  // No figure of the circuit holds it: the operation has to be computed again with other clamps, supports or cuts.
  'no-pressure-holds': () => [],
  // As little: it is the setting that is looked for, or the operation is computed again with other locators.
  'locator-overloaded': () => [],
  'signals-shared': listSharing,
  'pad-presses-too-hard': (facts, { subject }) =>
    ofSubject(facts, subject, 'pad-radius', { component: 'padRadius', element: 'padRadiusM' }),
  'not-proved-again': (facts) => ofAnswer('prove-again', 'circuit', 'isProvedAgain', facts.circuit.isProvedAgain),
  'open-not-proved': (facts) => ofAnswer('prove-open', 'circuit', 'hasOpenProof', facts.circuit.hasOpenProof),
  'falls-below-required': keepLonger,
  'warms-below-required': keepLonger,
  'relief-holds-clamp-line': reliefOf,
  'relief-lets-oil-out': (facts, pair) => [...reliefOf(facts, pair), ...keepLonger(facts, pair)],
  'clamps-too-slowly': clampSooner,
  'unclamps-too-slowly': unclampSooner,
  'spring-too-weak': (facts, { subject }) => [
    ...ofCircuit(facts)('return-pressure', 'returnPressurePa'),
    ...ofSubject(facts, subject, 'spring-force', { component: 'springForce', element: 'springForceN' }),
  ],
  'supply-too-small': (facts) => ofMachine(facts)('supply-power', 'supplyRatingW'),
  'inrush-too-large': (facts) => ofMachine(facts)('supply-peak', 'supplyPeakW'),
  'voltage-at-coil': (facts, pair) => [
    ...ofMachine(facts)('control-voltage', 'controlVoltageV'),
    ...coil('coil-voltage', 'coilVoltage')(facts, pair),
    ...coil('coil-tolerance', 'coilTolerance')(facts, pair),
    ...ofWires(facts, pair.subject, 'cross-section'),
  ],
  'duty-not-continuous': coil('coil-duty', 'coilDuty'),
  'no-suppression': (_facts, { subject: signal }) =>
    signal === null
      ? []
      : [
          toLever('fit-suppression', {
            holder: 'signal',
            id: signal.id,
            field: 'suppressionVoltageV',
            ref: signal,
            from: 60,
          }),
        ],
  'output-overvoltage': (facts, pair) => [
    ...ofMachine(facts)('output-rating', 'outputRatingV'),
    ...suppressionVoltage(facts, pair),
  ],
  polarity: (facts, { subject }) =>
    ofAnswer('polarity', 'signal', 'isPolarityRight', ofSignal(facts, subject)?.isPolarityRight ?? null, subject),
  'commons-not-separate': (facts) =>
    ofAnswer('separate-commons', 'machine', 'hasSeparateCommons', facts.control.machine.hasSeparateCommons),
  'protection-too-large': (facts, { subject }) => ofWire(facts, subject, 'protection', 'protectionA'),
  'insulation-too-low': (facts, { subject }) => ofWire(facts, subject, 'insulation', 'insulationVoltageV'),
  'support-locks-late': sequence,
  'support-overloaded': (facts, { subject }) => ofSubject(facts, subject, 'support-load', SUPPORT),
  'flow-too-high': swingSlower,
  'flow-too-high-unclamping': (facts, pair) => [
    ...facts.components
      .filter(holdsBack)
      .flatMap((control) => ofComponent(control, 'throttle-return', 'flowFromCylinders')),
    ...swingSlower(facts, pair),
  ],
  // Another valve, or one that is piloted: no figure of the circuit says so.
  'check-valve-stays-shut': () => [],
  'pilot-too-weak': () => [],
  'pilot-below-areas': () => [],
  'pressure-above-arm-chart': (facts, { subject }) =>
    ofSubject(facts, subject, 'arm-pressure', { component: 'armPressure', element: 'armPressurePa' }),
  'reservoir-too-small': (facts) => ofKind(facts, 'reservoir', 'usable-volume', 'usableVolume'),
  'reservoir-overflows': (facts) => ofKind(facts, 'reservoir', 'free-volume', 'freeVolume'),
  'other-station-pulls-down': (facts) => ofReadings(facts)('shared-lowest', 'lowestWhileSharedPa'),
};

/** By the check, where the reason alone does not say: a margin, a gauge and a probability are mended as the check is. */
const BY_CHECK: Partial<Readonly<Record<CheckCode, Mend>>> = {
  'holds-workpiece': (facts, pair) => [
    // What is shut in there and warms up works against the clamps.
    ...keepUnclampOpen(facts, pair),
    ...ofMachine(facts)('control-reaction', 'controlReactionS'),
    ...ofReadings(facts)('leak', 'decayPa'),
    ...ofCircuit(facts)('return-pressure', 'returnPressurePa'),
  ],
  'setting-within-rating': (facts, { subject }) => ofRating(facts, subject),
  'highest-within-rating': (facts, pair) => HIGHEST[pair.governing ?? 'source'](facts, pair),
  'shared-supply': (facts) => [
    ...ofSettings(facts)('restart-tolerance', 'pumpRestartTolerancePa'),
    ...ofReadings(facts)('shared-lowest', 'lowestWhileSharedPa'),
  ],
  'holds-without-supply': keepLonger,
  'clamping-time': clampSooner,
  unclamping: unclampSooner,
  'interlock-sound': listInterlockLevers,
};

/** What can mend a part of a check, what costs a practitioner least first; none: nothing that is a change does. */
export const listMends = (facts: CircuitFacts, pair: BadPair): Lever[] => [
  ...(MENDS[pair.reason] ?? BY_CHECK[pair.code] ?? (() => []))(facts, pair),
  ...(pair.reason === 'gauge-error-decides' ? gaugeOf(facts, pair) : []),
];
