/** Goes up with every change of a calculation that can change a result: what was computed before says by which one. */
export const CALCULATION_VERSION = '1.16.0';
