/**
 * Specific cutting forces kc1.1 and exponents mc by workpiece material. `confirmed` false: from memory only, or a row
 * of a published table that merely agrees; show it as unconfirmed. Values scatter by 20 % between sources before any
 * correction. Stainless steel, titanium, nickel and nodular iron are left to the user, with a source of their own.
 */
export interface CuttingMaterial {
  readonly id: string;
  readonly name: string;
  /** kc1.1 [Pa] */
  readonly kc11Pa: number;
  readonly mc: number;
  readonly confirmed: boolean;
  readonly source: string;
}

const HANDBOOK = 'Dietrich/Tschätsch, Praxis der Zerspantechnik, 11th ed. 2014, as reproduced in public code';
const AGREES = 'from memory; a published table of specific cutting force against feed agrees within';
const MEMORY = 'from memory, not confirmed separately';

const material = (
  id: string,
  name: string,
  kc11: number,
  mc: number,
  confirmed: boolean,
  source: string,
): CuttingMaterial => ({ id, name, kc11Pa: kc11 * 1e6, mc, confirmed, source });

export const CUTTING_MATERIALS: readonly CuttingMaterial[] = [
  material('s235', 'S235 (St 37 to St 42)', 1780, 0.17, true, HANDBOOK),
  material('e295', 'E295 (St 50-2)', 1990, 0.26, false, `${AGREES} 1.3 %`),
  material('e335', 'E335 (St 60-2)', 2110, 0.17, false, `${AGREES} 1.7 %`),
  material('e360', 'E360 (St 70-2), 18CrNi8', 2260, 0.3, false, `${AGREES} 1.0 %`),
  material('c45e', 'C45E', 2220, 0.14, false, MEMORY),
  material('c60e', 'C60E', 2130, 0.18, false, MEMORY),
  material('16mncr5', '16MnCr5', 2100, 0.26, false, `${AGREES} 1.3 %`),
  material('42crmo4', '42CrMo4', 2500, 0.26, false, `${AGREES} 1.3 %`),
  material('34crmo4', '34CrMo4', 2240, 0.21, false, MEMORY),
  material('50crv4', '50CrV4', 2220, 0.26, false, MEMORY),
  material('gjl-200', 'EN-GJL-200', 1020, 0.25, false, MEMORY),
  material('gjl-250', 'EN-GJL-250', 1160, 0.26, false, `${AGREES} 2.4 %`),
  material('aluminium-wrought', 'Aluminium, wrought (example)', 780, 0.18, true, `${HANDBOOK}; 700 occurs too`),
];
