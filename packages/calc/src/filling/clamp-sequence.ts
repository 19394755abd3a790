import { ATMOSPHERE_PA } from '../constants.js';
import { isBelow, requireFinite, requireThat, type CalcNote } from '../errors.js';
import { toManifoldPressure, toPumpFlow, type ClampCircuit } from './clamp-circuit.js';
import { runCircuit, type PressureMark } from './run-circuit.js';

export interface SequenceLine {
  /** L: length of the line [m], 0 <= L */
  lengthM: number;
  /** d: inner diameter [m], 0 < d */
  innerDiameterM: number;
}
export interface SequenceCylinders {
  /** equal cylinders in the group */
  count: number;
  /** D: bore [m], 0 < D */
  boreM: number;
  /** d_r: rod diameter [m], 0 <= d_r < D */
  rodM: number;
  /** s: stroke until contact [m], 0 <= s */
  strokeM: number;
  /** F: dry friction [N], 0 <= F */
  frictionN: number;
  /** c: viscous friction [N.s/m], 0 < c */
  viscousFrictionNsPerM: number;
  /** k: stiffness of clamp and workpiece after contact [N/m], 0 < k */
  contactStiffnessNPerM: number;
}
export interface ClampSequenceInput {
  pump: {
    /** Q_0: flow without back pressure [m3/s], 0 <= Q_0 */
    freeFlowM3PerS: number;
    /** p_s: stall pressure [Pa], 0 < p_s */
    stallPressurePa: number;
    /** i: piston ratio [1] */
    pistonRatio?: number | undefined;
    /** p_air: gauge air pressure [Pa] */
    airPressurePa?: number | undefined;
  };
  /** R: loss per flow from pump to manifold [Pa.s/m3], 0 <= R; or a line */
  supplyResistancePaSPerM3?: number | undefined;
  supplyLine?: SequenceLine | undefined;
  /** R_ret: loss per flow of the return [Pa.s/m3], 0 <= R_ret; or a line */
  returnResistancePaSPerM3?: number | undefined;
  returnLine?: SequenceLine | undefined;
  /** V_l: volume between valve and cylinders [m3], 0 < V_l */
  lineVolumeM3: number;
  oil: {
    /** K_0: bulk modulus of the oil [Pa], 0 < K_0 */
    bulkModulusPa: number;
    /** a: air at atmosphere [1], 0 <= a <= 1 */
    airFraction: number;
    /** n: polytropic exponent [1], 0 < n */
    polytropic: number;
    /** nu: kinematic viscosity, with a line [m2/s] */
    kinematicViscosityM2PerS?: number | undefined;
    /** rho: density, with a line [kg/m3] */
    densityKgPerM3?: number | undefined;
    /** K_h: modulus of the hose [Pa], 0 < K_h */
    hoseModulusPa?: number | undefined;
  };
  cylinders: readonly SequenceCylinders[];
  /** p_sw: rising point of the switch [Pa], 0 <= p_sw */
  switchRisingPa: number;
  /** where the switch senses */
  switchAt: 'manifold' | 'pump';
  /** p_1: pressure at the start [Pa], 0 <= p_1 */
  startPressurePa: number;
  /** t_max: how long to follow [s], 0 < t_max */
  maximumTimeS: number;
}
export interface ClampSequenceResult {
  /** t_1: first motion [s]; null: none */
  timeToFirstMotionS: number | null;
  /** t_c: contact of the last group [s]; null: not reached */
  timeToContactS: number | null;
  /** t_sw: the switch makes [s]; null: it does not */
  timeToSwitchS: number | null;
  /** t_95: 95 % of stall [s]; null: not reached */
  timeTo95S: number | null;
  /** contact of each group; null: not reached */
  contactsS: (number | null)[];
  /** V: oil pumped until contact and 95 % of stall [m3]; null: not reached */
  oilVolumeM3: number | null;
  /** V_air: free air used until then [m3] */
  airUsedM3?: number | null;
  series: { tS: number[]; pPa: number[]; x: { positionM: number[] }[] };
  notes: CalcNote[];
  /** right-hand sides evaluated, for benchmarks */
  evaluations: number;
}

function toResistance(
  input: ClampSequenceInput,
  resistance: number | undefined,
  line: SequenceLine | undefined,
  field: 'supplyResistancePaSPerM3' | 'returnResistancePaSPerM3',
): number {
  if (resistance !== undefined) return resistance;
  requireThat(line !== undefined, 'inconsistent', [field], 'a resistance or a line');
  const { kinematicViscosityM2PerS, densityKgPerM3 } = input.oil;
  requireThat(
    kinematicViscosityM2PerS !== undefined,
    'inconsistent',
    ['oil.kinematicViscosityM2PerS'],
    'a viscosity: the line needs it',
  );
  requireThat(densityKgPerM3 !== undefined, 'inconsistent', ['oil.densityKgPerM3'], 'a density: the line needs it');
  return (128 * kinematicViscosityM2PerS * densityKgPerM3 * line.lengthM) / (Math.PI * line.innerDiameterM ** 4);
}

function toCircuit(input: ClampSequenceInput): ClampCircuit {
  const { pump, oil, lineVolumeM3 } = input;
  return {
    freeFlowM3PerS: pump.freeFlowM3PerS,
    stallPressurePa: pump.stallPressurePa,
    supplyResistance: toResistance(input, input.supplyResistancePaSPerM3, input.supplyLine, 'supplyResistancePaSPerM3'),
    returnResistance: toResistance(input, input.returnResistancePaSPerM3, input.returnLine, 'returnResistancePaSPerM3'),
    lineVolumeM3,
    oilModulusPa: oil.bulkModulusPa,
    airFraction: oil.airFraction,
    polytropic: oil.polytropic,
    hoseCompliance: oil.hoseModulusPa === undefined ? 0 : 1 / oil.hoseModulusPa,
    groups: input.cylinders.map((cylinder, index) => {
      const { count, boreM, rodM, strokeM, frictionN, viscousFrictionNsPerM, contactStiffnessNPerM } = cylinder;
      const fields = [`cylinders[${index}].rodM`, `cylinders[${index}].boreM`];
      requireThat(isBelow(rodM, boreM), 'inconsistent', fields, 'rod smaller than bore');
      return {
        count,
        pistonM2: (Math.PI * boreM ** 2) / 4,
        annulusM2: (Math.PI * (boreM - rodM) * (boreM + rodM)) / 4,
        strokeM,
        frictionN,
        viscousNsPerM: viscousFrictionNsPerM,
        stiffnessNPerM: contactStiffnessNPerM,
      };
    }),
  };
}

function toLatest(times: readonly (number | null)[]): number | null {
  return times.reduce<number | null>(
    (latest, time) => (latest === null || time === null ? null : Math.max(latest, time)),
    0,
  );
}

/** A mark that the start has already passed is at time zero. */
function toMark(pressurePa: number, startPressurePa: number): PressureMark {
  return { pressurePa, timeS: startPressurePa >= pressurePa ? 0 : null };
}

/**
 * The clamping transient of a circuit: strokes, contact, rise of pressure, and when the switch makes.
 *
 * @method Pump line Q₀(1 − p/p_s) with the supply's loss solved in; groups move at (p·A − p_ret·A_annulus − F)/c until contact, then act as springs; (V/K(p) + Σ count·A²/k)·dp/dt = Q − Σ count·A·v, K by `effective-bulk-modulus`. Integrated by the stiff Rosenbrock method RODAS (order 4), error-controlled; contacts met exactly.
 * @residual abs(timeTo95S - timeToSwitchS - ((3e-4 + 2 * pi * 0.025^2 / 4 * 0.012) / 1.5e9 + 2 * (pi * 0.025^2 / 4)^2 / 4e7) * 2e7 / 2e-5 * (1 + 2e-5 * 1.2e10 / 2e7) * log((2e7 - switchRisingPa) / 1e6)) < 1e-5 ? 0 : 1
 * @assumes No mass; laminar supply and return; one pressure at all cylinders; Coulomb and viscous friction; springs after contact.
 * @range Within 0.1 % of each time. A real pump's curve hangs below the line: its times are longer.
 * @throws CalcInputError inconsistent: a rod not smaller than its bore, a line without viscosity or density. no-result: cannot be followed. not-finite: NaN or infinite input.
 * @example two-clamps
 * in  {"pump":{"freeFlowM3PerS":2e-5,"stallPressurePa":2e7},"supplyResistancePaSPerM3":1.2e10,"returnResistancePaSPerM3":6e9,"lineVolumeM3":3e-4,"oil":{"bulkModulusPa":1.5e9,"airFraction":0,"polytropic":1.4},"cylinders":[{"count":2,"boreM":0.025,"rodM":0.012,"strokeM":0.012,"frictionN":60,"viscousFrictionNsPerM":400,"contactStiffnessNPerM":4e7}],"switchRisingPa":1.5e7,"switchAt":"manifold","startPressurePa":0,"maximumTimeS":600}
 * near 1e-5 timeToFirstMotionS=0.0012407730795358724 timeToContactS=0.604494678071058 timeToSwitchS=0.9106753916193722 timeTo95S=1.268840767898183
 * @source Balance of volumes and forces; method: Hairer & Wanner, Solving Ordinary Differential Equations II, 1996.
 */
export function clampSequence(input: ClampSequenceInput): ClampSequenceResult {
  requireFinite(input);
  const { pump, cylinders, startPressurePa, maximumTimeS } = input;
  requireThat(cylinders.length > 0, 'out-of-range', ['cylinders'], 'at least one group');
  const circuit = toCircuit(input);
  const leastMotion = Math.min(...circuit.groups.map(({ frictionN, pistonM2 }) => frictionN / pistonM2));
  const motion = toMark(leastMotion, startPressurePa);
  const nearStall = toMark(0.95 * pump.stallPressurePa, startPressurePa);
  const switchPressure = toManifoldPressure(circuit, input.switchRisingPa, input.switchAt);
  // At the pump the pressure is there as soon as it runs; at the manifold it must rise through the point.
  const isThereAtOnce = input.switchAt === 'pump' && startPressurePa >= switchPressure;
  const switching: PressureMark = { pressurePa: switchPressure, timeS: isThereAtOnce ? 0 : null };
  const isReachable = switchPressure < pump.stallPressurePa;
  const marks = [motion, nearStall, ...(isReachable ? [switching] : [])].filter((mark) => mark.timeS === null);
  const run = runCircuit(circuit, startPressurePa, maximumTimeS, marks);
  requireThat(run !== null, 'no-result', ['cylinders', 'lineVolumeM3'], 'a circuit that the integration can follow');
  const timeToContactS = toLatest(run.contactsS);
  const end = toLatest([timeToContactS, nearStall.timeS]);
  const oilVolumeM3 = end === null ? null : run.pumpedAt(end);
  const notes: CalcNote[] = [];
  const makesEarly = switching.timeS !== null && (timeToContactS === null || switching.timeS < timeToContactS);
  if (makesEarly) notes.push({ code: 'switch-makes-before-contact' });
  if (pump.freeFlowM3PerS === 0) notes.push({ code: 'no-pump-flow' });
  else if (toPumpFlow(circuit, input.switchRisingPa).flow === 0) notes.push({ code: 'switch-above-stall' });
  const result: ClampSequenceResult = {
    timeToFirstMotionS: motion.timeS,
    timeToContactS,
    timeToSwitchS: switching.timeS,
    timeTo95S: nearStall.timeS,
    contactsS: run.contactsS,
    oilVolumeM3,
    series: { tS: run.times, pPa: run.pressures, x: run.positions.map((positionM) => ({ positionM })) },
    notes,
    evaluations: run.evaluations,
  };
  if (pump.pistonRatio !== undefined && pump.airPressurePa !== undefined) {
    const free = (pump.pistonRatio * (pump.airPressurePa + ATMOSPHERE_PA)) / ATMOSPHERE_PA;
    result.airUsedM3 = oilVolumeM3 === null ? null : free * oilVolumeM3;
  }
  return result;
}
