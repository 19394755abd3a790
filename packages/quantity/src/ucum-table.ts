import { decimal, multiply, power, rational, type Rational } from './rational.js';

/** Exponents of metre, gram-free SI base units and the radian, in this order: m, kg, s, K, A, rad. */
export type Dimension = readonly [number, number, number, number, number, number];

export const DIMENSIONLESS: Dimension = [0, 0, 0, 0, 0, 0];

/** What one unit code stands for: `factor` times the coherent SI unit, times `irrational`; `offset` makes it a point scale. */
export interface UnitAtom {
  readonly dimension: Dimension;
  readonly factor: Rational;
  /** 1 but for units made from π */
  readonly irrational: number;
  /** only for scales whose zero is not the zero of the SI unit; SI = (value + offset) · factor */
  readonly offset: Rational | null;
  /** takes a metric prefix */
  readonly metric: boolean;
}

/** Source: The Unified Code for Units of Measure (UCUM), version 2.2, tables 1 and 3 to 18 (the part of it used here). */
export const PREFIXES: ReadonlyMap<string, Rational> = new Map(
  Object.entries({
    Q: '1e30',
    R: '1e27',
    Y: '1e24',
    Z: '1e21',
    E: '1e18',
    P: '1e15',
    T: '1e12',
    G: '1e9',
    M: '1e6',
    k: '1e3',
    h: '1e2',
    da: '1e1',
    d: '1e-1',
    c: '1e-2',
    m: '1e-3',
    u: '1e-6',
    n: '1e-9',
    p: '1e-12',
    f: '1e-15',
    a: '1e-18',
    z: '1e-21',
    y: '1e-24',
    r: '1e-27',
    q: '1e-30',
  }).map(([code, value]) => [code, decimal(value)]),
);

const atoms = new Map<string, UnitAtom>();

function define(
  code: string,
  dimension: Dimension,
  factor: Rational,
  more: { metric?: boolean; irrational?: number; offset?: Rational } = {},
): void {
  atoms.set(code, {
    dimension,
    factor,
    irrational: more.irrational ?? 1,
    offset: more.offset ?? null,
    metric: more.metric ?? false,
  });
}

const ONE = rational(1n);
const LENGTH: Dimension = [1, 0, 0, 0, 0, 0];
const AREA: Dimension = [2, 0, 0, 0, 0, 0];
const VOLUME: Dimension = [3, 0, 0, 0, 0, 0];
const MASS: Dimension = [0, 1, 0, 0, 0, 0];
const TIME: Dimension = [0, 0, 1, 0, 0, 0];
const TEMPERATURE: Dimension = [0, 0, 0, 1, 0, 0];
const CURRENT: Dimension = [0, 0, 0, 0, 1, 0];
const ANGLE: Dimension = [0, 0, 0, 0, 0, 1];
const SPEED: Dimension = [1, 0, -1, 0, 0, 0];
const FORCE: Dimension = [1, 1, -2, 0, 0, 0];
const PRESSURE: Dimension = [-1, 1, -2, 0, 0, 0];
const ENERGY: Dimension = [2, 1, -2, 0, 0, 0];
const POWER: Dimension = [2, 1, -3, 0, 0, 0];

const metric = { metric: true };
define('m', LENGTH, ONE, metric);
define('g', MASS, decimal('1e-3'), metric);
define('s', TIME, ONE, metric);
define('K', TEMPERATURE, ONE, metric);
define('A', CURRENT, ONE, metric);
define('rad', ANGLE, ONE, metric);
define('C', [0, 0, 1, 0, 1, 0], ONE, metric);
define('Hz', [0, 0, -1, 0, 0, 0], ONE, metric);
define('N', FORCE, ONE, metric);
define('Pa', PRESSURE, ONE, metric);
define('J', ENERGY, ONE, metric);
define('W', POWER, ONE, metric);
define('V', [2, 1, -3, 0, -1, 0], ONE, metric);
define('F', [-2, -1, 4, 0, 2, 0], ONE, metric);
define('Ohm', [2, 1, -3, 0, -2, 0], ONE, metric);
define('S', [-2, -1, 3, 0, 2, 0], ONE, metric);
define('Wb', [2, 1, -2, 0, -1, 0], ONE, metric);
define('T', [0, 1, -2, 0, -1, 0], ONE, metric);
define('H', [2, 1, -2, 0, -2, 0], ONE, metric);
define('L', VOLUME, decimal('1e-3'), metric);
define('l', VOLUME, decimal('1e-3'), metric);
define('t', MASS, decimal('1e3'), metric);
define('bar', PRESSURE, decimal('1e5'), metric);
define('ar', AREA, decimal('100'), metric);
define('gf', FORCE, decimal('9.80665e-3'), metric);
define('P', [-1, 1, -1, 0, 0, 0], decimal('0.1'), metric);
define('St', [2, 0, -1, 0, 0, 0], decimal('1e-4'), metric);
define('dyn', FORCE, decimal('1e-5'), metric);
define('erg', ENERGY, decimal('1e-7'), metric);
define('cal', ENERGY, decimal('4.184'), metric);
define('m[H2O]', PRESSURE, decimal('9806.65'), metric);
define('m[Hg]', PRESSURE, decimal('133322'), metric);
define('[g]', [1, 0, -2, 0, 0, 0], decimal('9.80665'), metric);

define('min', TIME, decimal('60'));
define('h', TIME, decimal('3600'));
define('d', TIME, decimal('86400'));
define('wk', TIME, decimal('604800'));
define('a', TIME, decimal('31557600'));
define('mo', TIME, decimal('2629800'));
define('deg', ANGLE, rational(1n, 180n), { irrational: Math.PI });
define("'", ANGLE, rational(1n, 10800n), { irrational: Math.PI });
define("''", ANGLE, rational(1n, 648000n), { irrational: Math.PI });
define('gon', ANGLE, rational(1n, 200n), { irrational: Math.PI });
define('circ', ANGLE, rational(2n), { irrational: Math.PI });
define('[pi]', DIMENSIONLESS, ONE, { irrational: Math.PI });
define('%', DIMENSIONLESS, decimal('1e-2'));
define('[ppth]', DIMENSIONLESS, decimal('1e-3'));
define('[ppm]', DIMENSIONLESS, decimal('1e-6'));
define('10*', DIMENSIONLESS, decimal('10'));
define('10^', DIMENSIONLESS, decimal('10'));
define('atm', PRESSURE, decimal('101325'));
define('att', PRESSURE, decimal('98066.5'));

const inch = decimal('0.0254');
const foot = decimal('0.3048');
const pound = decimal('0.45359237');
const poundForce = multiply(pound, decimal('9.80665'));
const gallonUs = multiply(decimal('231'), power(inch, 3));
const gallonBritish = decimal('4.54609e-3');
define('[in_i]', LENGTH, inch);
define('[ft_i]', LENGTH, foot);
define('[yd_i]', LENGTH, decimal('0.9144'));
define('[mi_i]', LENGTH, decimal('1609.344'));
define('[mil_i]', LENGTH, decimal('2.54e-5'));
define('[sin_i]', AREA, power(inch, 2));
define('[sft_i]', AREA, power(foot, 2));
define('[cin_i]', VOLUME, power(inch, 3));
define('[cft_i]', VOLUME, power(foot, 3));
define('[kn_i]', SPEED, rational(1852n, 3600n));
define('[gal_us]', VOLUME, gallonUs);
define('[qt_us]', VOLUME, multiply(gallonUs, rational(1n, 4n)));
define('[pt_us]', VOLUME, multiply(gallonUs, rational(1n, 8n)));
define('[foz_us]', VOLUME, multiply(gallonUs, rational(1n, 128n)));
define('[gal_br]', VOLUME, gallonBritish);
define('[lb_av]', MASS, pound);
define('[oz_av]', MASS, multiply(pound, rational(1n, 16n)));
define('[gr]', MASS, decimal('6.479891e-5'));
define('[stone_av]', MASS, multiply(pound, rational(14n)));
define('[ston_av]', MASS, multiply(pound, rational(2000n)));
define('[lton_av]', MASS, multiply(pound, rational(2240n)));
define('[lbf_av]', FORCE, poundForce);
define('[psi]', PRESSURE, multiply(poundForce, power(inch, -2)));
define('[HP]', POWER, multiply(multiply(rational(550n), foot), poundForce));
define("[in_i'H2O]", PRESSURE, multiply(decimal('9806.65'), inch));
define("[in_i'Hg]", PRESSURE, multiply(decimal('133322'), inch));
define('[degR]', TEMPERATURE, rational(5n, 9n));

define('Cel', TEMPERATURE, ONE, { metric: true, offset: decimal('273.15') });
define('[degF]', TEMPERATURE, rational(5n, 9n), { offset: decimal('459.67') });

export const ATOMS: ReadonlyMap<string, UnitAtom> = atoms;
