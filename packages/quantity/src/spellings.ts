import { getKindInfo, type QuantityKind } from './kinds.js';
import { checkUnit } from './units.js';

/** What people type beside a number → UCUM. Keys are compared after `normalise`, first exactly, then without case. */
const SPELLINGS: readonly (readonly [unit: string, ...spellings: string[]])[] = [
  ['[psi]', 'psi', 'psig', 'lbf/in²', 'lbf/in2', 'lb/in2', 'lb/in²', 'lbs/in2', 'lbs/in²'],
  ['bar', 'bar', 'barg', 'bars'],
  ['mbar', 'mbar'],
  ['MPa', 'MPa', 'N/mm²', 'N/mm2'],
  ['GPa', 'GPa'],
  ['kPa', 'kPa'],
  ['Pa', 'Pa'],
  ['kgf/cm2', 'kgf/cm2', 'kgf/cm²', 'kp/cm2', 'kp/cm²', 'kg/cm2', 'kg/cm²'],
  ['mm', 'mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
  ['cm', 'cm'],
  ['m', 'm', 'metre', 'metres', 'meter', 'meters'],
  ['um', 'µm', 'um', 'micron', 'microns'],
  ['[in_i]', 'in', 'inch', 'inches', '"', '″', '”', "''"],
  ['[ft_i]', 'ft', 'foot', 'feet', '′', "'"],
  ['mm2', 'mm²', 'sq mm'],
  ['cm2', 'cm²', 'sq cm'],
  ['m2', 'm²', 'sq m'],
  ['[in_i]2', 'in²', 'in2', 'in^2', 'sq in'],
  ['L', 'L', 'l', 'litre', 'litres', 'liter', 'liters', 'ltr'],
  ['mL', 'mL', 'ml', 'cc', 'ccm'],
  ['cm3', 'cm³', 'cm^3'],
  ['m3', 'm³', 'm^3'],
  ['[in_i]3', 'in³', 'in3', 'in^3', 'cu in'],
  ['[gal_us]', 'gal', 'gal us', 'us gal', 'gallon', 'gallons'],
  ['L/min', 'L/min', 'l/min', 'lpm', 'litre/min', 'litres/min'],
  ['mL/min', 'ml/min', 'cc/min'],
  ['cm3/min', 'cm³/min'],
  ['m3/h', 'm³/h'],
  ['[gal_us]/min', 'gpm', 'gal/min', 'us gpm'],
  ['[in_i]3/min', 'in³/min', 'in3/min', 'cu in/min', 'cim'],
  ['N', 'N', 'newton', 'newtons'],
  ['kN', 'kN'],
  ['[lbf_av]', 'lbf', 'lb', 'lbs', 'pound', 'pounds'],
  ['[lb_av]', 'lb', 'lbs', 'pound', 'pounds'],
  ['kg', 'kg'],
  ['s', 's', 'sec', 'secs', 'second', 'seconds'],
  ['ms', 'ms', 'msec'],
  ['min', 'min', 'mins', 'minute', 'minutes'],
  ['h', 'h', 'hr', 'hrs', 'hour', 'hours'],
  ['d', 'd', 'day', 'days'],
  ['wk', 'wk', 'week', 'weeks'],
  ['a', 'a', 'yr', 'yrs', 'year', 'years'],
  ['Cel', '°C', 'C', 'deg C', 'degC', '℃'],
  ['[degF]', '°F', 'F', 'deg F', 'degF', '℉'],
  ['K', 'K', 'kelvin'],
  ['m/s', 'm/s'],
  ['mm/s', 'mm/s'],
  ['m/min', 'm/min'],
  ['[ft_i]/min', 'ft/min', 'fpm', 'sfm'],
  ['[in_i]/s', 'in/s', 'ips'],
  ['kg/m3', 'kg/m³'],
  ['g/cm3', 'g/cm³', 'g/cc'],
  ['mm2/s', 'mm²/s'],
  ['cSt', 'cSt', 'cst', 'centistokes'],
  ['W', 'W', 'watt', 'watts'],
  ['kW', 'kW'],
  ['[HP]', 'hp', 'horsepower'],
  ['N.m', 'N·m', 'N m', 'Nm', 'N*m'],
  ['[lbf_av].[ft_i]', 'lbf·ft', 'ft·lbf', 'ft lbf', 'ft-lb', 'ft-lbs', 'lb-ft', 'lbf ft', 'lb ft'],
  ['deg', '°', 'deg', 'degree', 'degrees'],
  ['deg/s', '°/s', 'deg/s', 'degrees/s'],
  ['rad/s', 'rad/s'],
  ['circ/min', 'rev/min', 'rpm', '1/min', '/min', 'min⁻¹', 'min-1'],
  ['deg/s2', '°/s²', '°/s2', 'deg/s²', 'deg/s^2'],
  ['rad/s2', 'rad/s²', 'rad/s^2'],
  ['1/min', '1/min', '/min', 'rpm', 'rev/min', 'min⁻¹', 'min-1'],
  ['Hz', 'Hz'],
  ['1/d', '/d', '1/day', '/day', 'per day', 'a day'],
  ['1/h', '/h', '/hr', 'per hour'],
  ['1/a', '/a', '/yr', 'per year'],
  ['Ohm', 'Ω', 'Ω', 'ohm', 'ohms'],
  ['mOhm', 'mΩ', 'mΩ', 'mohm'],
  ['kOhm', 'kΩ', 'kΩ', 'kohm'],
  ['V', 'V', 'volt', 'volts', 'VDC', 'V DC'],
  ['mV', 'mV'],
  ['A', 'A', 'amp', 'amps', 'ampere', 'amperes'],
  ['mA', 'mA'],
  ['H', 'H', 'henry'],
  ['mH', 'mH'],
  ['J', 'J', 'joule', 'joules'],
  ['kJ', 'kJ'],
  ['N.s/m', 'N·s/m', 'Ns/m'],
  ['[lbf_av]/[in_i]', 'lbf/in', 'lb/in'],
  ['bar.min/L', 'bar·min/L', 'bar min/L', 'bar/(L/min)'],
  ['[psi].min/[gal_us]', 'psi·min/gal', 'psi/gpm'],
  ['bar/min', 'bar/min'],
  ['[psi]/min', 'psi/min'],
  ['%', '%', 'percent', 'per cent'],
];

function normalise(text: string): string {
  return text
    .trim()
    .replace(/[\s\u00a0\u202f]+/g, ' ')
    .replace(/ ?\/ ?/g, '/')
    .replace(/μ/g, 'µ')
    .replace(/⋅/g, '·');
}

function makeIndex(fold: (spelling: string) => string): ReadonlyMap<string, readonly string[]> {
  const index = new Map<string, string[]>();
  for (const [unit, ...spellings] of SPELLINGS) {
    for (const spelling of spellings) {
      const key = fold(normalise(spelling));
      const units = index.get(key) ?? [];
      if (!units.includes(unit)) units.push(unit);
      index.set(key, units);
    }
  }
  return index;
}

const EXACT = makeIndex((spelling) => spelling);
const FOLDED = makeIndex((spelling) => spelling.toLowerCase());

/** The UCUM code meant by what a person typed, among the units that fit the kind; null when none does. */
export function findSpelledUnit(text: string, kind: QuantityKind): string | null {
  const typed = normalise(text);
  const fits = (unit: string): boolean => checkUnit(unit, kind) === null;
  // `mPa` typed for a pressure is milli-pascal by the letter; nobody means that, so a display unit wins without its case.
  const shown = getKindInfo(kind).displayUnits.find(
    ({ unit, symbol }) => unit === typed || symbol.toLowerCase() === typed.toLowerCase(),
  );
  if (shown) return shown.unit;
  const exact = EXACT.get(typed)?.find(fits);
  if (exact !== undefined) return exact;
  // A bare factor is UCUM too, but "12 34" typed for a ratio is a slip, not 12 times 34.
  if (/^(1?\/|[^\d])/.test(typed) && fits(typed)) return typed;
  return FOLDED.get(typed.toLowerCase())?.find(fits) ?? null;
}
