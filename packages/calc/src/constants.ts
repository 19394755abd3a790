/** Standard atmosphere [Pa]: 101 325 Pa by definition (10th CGPM, 1954). */
export const ATMOSPHERE_PA = 101_325;
/** Standard acceleration of free fall [m/s2]: 9.80665 m/s² by definition (3rd CGPM, 1901). */
export const GRAVITY_M_PER_S2 = 9.80665;
