/** A unit that people choose to read a kind in, with the symbol that is printed for it. */
export interface DisplayUnit {
  readonly unit: string;
  readonly symbol: string;
}

export interface QuantityKindInfo {
  /** the coherent SI unit that values of this kind are kept in (UCUM) */
  readonly siUnit: string;
  /** units offered on screen and paper, the usual one first */
  readonly displayUnits: readonly DisplayUnit[];
}

const show = (unit: string, symbol = unit): DisplayUnit => ({ unit, symbol });

const PRESSURES = [show('bar'), show('[psi]', 'psi'), show('MPa')];
const STRESSES = [show('N/mm2', 'N/mm²'), show('MPa'), show('[psi]', 'psi')];

export const QUANTITY_KINDS = {
  pressure: { siUnit: 'Pa', displayUnits: PRESSURES },
  stress: { siUnit: 'Pa', displayUnits: STRESSES },
  modulus: { siUnit: 'Pa', displayUnits: [show('MPa'), show('GPa'), show('bar'), show('[psi]', 'psi')] },
  length: { siUnit: 'm', displayUnits: [show('mm'), show('m'), show('[in_i]', 'in'), show('[ft_i]', 'ft')] },
  area: { siUnit: 'm2', displayUnits: [show('mm2', 'mm²'), show('cm2', 'cm²'), show('[in_i]2', 'in²')] },
  volume: {
    siUnit: 'm3',
    displayUnits: [show('L'), show('mL'), show('cm3', 'cm³'), show('[in_i]3', 'in³'), show('[gal_us]', 'gal')],
  },
  force: { siUnit: 'N', displayUnits: [show('kN'), show('N'), show('[lbf_av]', 'lbf')] },
  flow: {
    siUnit: 'm3/s',
    displayUnits: [
      show('L/min'),
      show('mL/min'),
      show('cm3/min', 'cm³/min'),
      show('m3/h', 'm³/h'),
      show('[gal_us]/min', 'gal/min'),
      show('[in_i]3/min', 'in³/min'),
    ],
  },
  time: { siUnit: 's', displayUnits: [show('s'), show('ms'), show('min'), show('h'), show('d'), show('a')] },
  temperature: { siUnit: 'K', displayUnits: [show('Cel', '°C'), show('[degF]', '°F'), show('K')] },
  'temperature-difference': { siUnit: 'K', displayUnits: [show('K')] },
  speed: {
    siUnit: 'm/s',
    displayUnits: [show('m/s'), show('mm/s'), show('m/min'), show('[ft_i]/min', 'ft/min'), show('[in_i]/s', 'in/s')],
  },
  mass: { siUnit: 'kg', displayUnits: [show('kg'), show('g'), show('[lb_av]', 'lb')] },
  density: { siUnit: 'kg/m3', displayUnits: [show('kg/m3', 'kg/m³'), show('g/cm3', 'g/cm³')] },
  'kinematic-viscosity': { siUnit: 'm2/s', displayUnits: [show('mm2/s', 'mm²/s'), show('cSt')] },
  power: { siUnit: 'W', displayUnits: [show('W'), show('kW'), show('[HP]', 'hp')] },
  energy: { siUnit: 'J', displayUnits: [show('J'), show('kJ')] },
  torque: { siUnit: 'N.m', displayUnits: [show('N.m', 'N·m'), show('[lbf_av].[ft_i]', 'lbf·ft')] },
  angle: { siUnit: 'rad', displayUnits: [show('deg', '°'), show('rad')] },
  'angular-speed': {
    siUnit: 'rad/s',
    displayUnits: [show('deg/s', '°/s'), show('rad/s'), show('circ/min', 'rev/min')],
  },
  'angular-acceleration': { siUnit: 'rad/s2', displayUnits: [show('deg/s2', '°/s²'), show('rad/s2', 'rad/s²')] },
  frequency: { siUnit: '1/s', displayUnits: [show('1/min'), show('Hz'), show('1/s')] },
  rate: { siUnit: '1/s', displayUnits: [show('1/d'), show('1/h'), show('1/a')] },
  resistance: { siUnit: 'Ohm', displayUnits: [show('Ohm', 'Ω'), show('mOhm', 'mΩ'), show('kOhm', 'kΩ')] },
  voltage: { siUnit: 'V', displayUnits: [show('V'), show('mV')] },
  current: { siUnit: 'A', displayUnits: [show('A'), show('mA')] },
  inductance: { siUnit: 'H', displayUnits: [show('H'), show('mH')] },
  stiffness: { siUnit: 'N/m', displayUnits: [show('N/mm'), show('N/m'), show('[lbf_av]/[in_i]', 'lbf/in')] },
  damping: { siUnit: 'N.s/m', displayUnits: [show('N.s/m', 'N·s/m')] },
  'hydraulic-resistance': {
    siUnit: 'Pa.s/m3',
    displayUnits: [show('bar.min/L', 'bar·min/L'), show('[psi].min/[gal_us]', 'psi·min/gal')],
  },
  'pressure-rate': {
    siUnit: 'Pa/s',
    displayUnits: [show('bar/min'), show('bar/h'), show('[psi]/min', 'psi/min'), show('MPa/min')],
  },
  'thermal-expansion': { siUnit: '1/K', displayUnits: [show('1/K'), show('1/[degR]', '1/°R')] },
  'particle-concentration': { siUnit: '1/m3', displayUnits: [show('1/mL'), show('1/L')] },
  ratio: { siUnit: '1', displayUnits: [show('1', ''), show('%')] },
} as const satisfies Record<string, QuantityKindInfo>;

export type QuantityKind = keyof typeof QUANTITY_KINDS;

export function isQuantityKind(text: string): text is QuantityKind {
  return Object.hasOwn(QUANTITY_KINDS, text);
}

export function getKindInfo(kind: QuantityKind): QuantityKindInfo {
  return QUANTITY_KINDS[kind];
}

const SYMBOLS = new Map<string, string>(
  Object.values<QuantityKindInfo>(QUANTITY_KINDS).flatMap((kind) =>
    kind.displayUnits.map(({ unit, symbol }): [string, string] => [unit, symbol]),
  ),
);

/** The symbol printed for a UCUM code; a code that no kind lists is printed as it is. */
export function toUnitSymbol(unit: string): string {
  return SYMBOLS.get(unit) ?? unit;
}
