import { isAtMost, requireFinite, type CalcNote } from '../errors.js';
import { conductorResistance } from './conductor-resistance.js';

export interface DcLineDropInput {
  /** V_s: voltage of the supply [V], 0 < V_s */
  supplyVoltageV: number;
  /** a coil by its power at rated voltage, or a current that is drawn whatever the voltage */
  load: { powerW: number } | { currentA: number };
  /** n: AWG number [1], either sign */
  gauge?: number | undefined;
  /** A: cross-section of the copper [m2], 0 < A */
  crossSectionM2?: number | undefined;
  /** L: length of the cable, one way [m], 0 <= L */
  lengthM: number;
  /** T: temperature of the conductors [K] */
  temperatureK: number;
  /** V_r: rated voltage of the load [V], 0 < V_r */
  ratedVoltageV: number;
  /** tol: tolerance of the rated voltage [1], 0 <= tol <= 1 */
  tolerance: number;
}
export interface DcLineDropResult {
  /** I: current [A] */
  currentA: number;
  /** dV: loss over both conductors [V] */
  dropV: number;
  /** V: voltage at the load [V] */
  voltageAtLoadV: number;
  /** r: loss in per cent of the supply voltage [1] */
  dropPercent: number;
  withinTolerance: boolean;
  notes: CalcNote[];
}
/**
 * Voltage that arrives at a DC load at the end of a cable.
 *
 * @method Loop resistance R = 2 × `conductor-resistance`. A coil: I = V_s/(R + V_r²/W); a current: as given. Drop = R·I.
 * @residual dropV - 2 * 1.7241e-8 * lengthM / 1e-6 * currentA
 * @residual currentA - supplyVoltageV / (2 * 1.7241e-8 * lengthM / 1e-6 + 24^2 / 24)
 * @assumes Both conductors alike and at one temperature; contacts without resistance.
 * @range Coils commonly work within ±10 % of their rated voltage (common practice): use the data sheet's.
 * @throws CalcInputError inconsistent: gauge and cross-section both or neither. not-finite: NaN or infinite input.
 * @example coil
 * in  {"supplyVoltageV":24,"load":{"powerW":24},"crossSectionM2":1e-6,"lengthM":20,"temperatureK":293.15,"ratedVoltageV":24,"tolerance":0.1}
 * out currentA=0.9720676364661452 voltageAtLoadV=23.329623275187487
 * @source Ohm's law; ASTM B258 for gauges.
 */
export function dcLineDrop(input: DcLineDropInput): DcLineDropResult {
  requireFinite(input);
  const { supplyVoltageV, load, gauge, crossSectionM2, lengthM, temperatureK, ratedVoltageV, tolerance } = input;
  const loopOhm = 2 * conductorResistance({ gauge, crossSectionM2, lengthM, temperatureK }).resistanceOhm;
  const currentA = 'powerW' in load ? supplyVoltageV / (loopOhm + ratedVoltageV ** 2 / load.powerW) : load.currentA;
  const dropV = loopOhm * currentA;
  const voltageAtLoadV = supplyVoltageV - dropV;
  return {
    currentA,
    dropV,
    voltageAtLoadV,
    dropPercent: (100 * dropV) / supplyVoltageV,
    withinTolerance: isAtMost(Math.abs(voltageAtLoadV - ratedVoltageV), tolerance * ratedVoltageV),
    notes: voltageAtLoadV < 0 ? [{ code: 'drop-above-supply', parameters: { dropV, supplyVoltageV } }] : [],
  };
}
