// Made by scripts/extract-docs.mjs from the docstrings of the calculation functions: change those, then run it.
import type { CalculationDoc } from './docs.types.js';

export const DOCS: Readonly<Record<string, CalculationDoc>> = {
  'cylinder-force': {
    summary: 'Force of a double-acting cylinder in each direction at steady pressure.',
    formula: [
      'A_p = pi * D^2 / 4',
      'A_a = pi * (D^2 - d^2) / 4',
      'phi = A_p / A_a',
      'F_e = eta * (p * A_p - p_b * A_a)',
      'F_r = eta * (p * A_a - p_b * A_p)',
    ],
    method: [],
    assumes: 'Steady state, single rod, both pressures gauge; the weight of what moves is left out.',
    range:
      'Seal and guide friction commonly takes 2 to 10 % (common practice, no source). A negative force is an answer: the back pressure wins.',
    sources: ['Force = pressure times area (definition of pressure); areas of circle and ring.'],
    symbols: {
      boreM: {
        symbol: 'D',
        meaning: "bore, the piston's diameter",
      },
      rodM: {
        symbol: 'd',
        meaning: 'rod diameter',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge pressure on the driven side',
      },
      backPressurePa: {
        symbol: 'p_b',
        meaning: 'gauge pressure on the other side',
      },
      efficiency: {
        symbol: 'eta',
        meaning: 'share of the force left after friction of seals and guides',
      },
      pistonAreaM2: {
        symbol: 'A_p',
        meaning: 'piston area',
      },
      annulusAreaM2: {
        symbol: 'A_a',
        meaning: "annulus area, on the rod's side",
      },
      areaRatio: {
        symbol: 'phi',
        meaning: 'piston area over annulus area',
      },
      extendForceN: {
        symbol: 'F_e',
        meaning: 'force while extending',
      },
      retractForceN: {
        symbol: 'F_r',
        meaning: 'force while retracting',
      },
    },
  },
  'cylinder-pressure': {
    summary:
      'Pressure that a double-acting cylinder needs for a force, in each direction: the inverse of `cylinder-force`.',
    formula: [
      'A_p = pi * D^2 / 4',
      'A_a = pi * (D^2 - d^2) / 4',
      'p_e = (F / eta + p_b * A_a) / A_p',
      'p_r = (F / eta + p_b * A_p) / A_a',
    ],
    method: [],
    assumes: 'Steady state, single rod, both pressures gauge; the weight of what moves is left out.',
    range: 'As `cylinder-force`.',
    sources: ['Force = pressure times area (definition of pressure); areas of circle and ring.'],
    symbols: {
      forceN: {
        symbol: 'F',
        meaning: 'force asked for',
      },
      boreM: {
        symbol: 'D',
        meaning: "bore, the piston's diameter",
      },
      rodM: {
        symbol: 'd',
        meaning: 'rod diameter',
      },
      backPressurePa: {
        symbol: 'p_b',
        meaning: 'gauge pressure on the other side',
      },
      efficiency: {
        symbol: 'eta',
        meaning: 'share of the force left after friction of seals and guides',
      },
      extendPressurePa: {
        symbol: 'p_e',
        meaning: 'gauge pressure that gives the force while extending',
      },
      retractPressurePa: {
        symbol: 'p_r',
        meaning: 'gauge pressure that gives the force while retracting',
      },
    },
  },
  'lever-clamp-force': {
    summary: 'Clamping force of a lever or strap clamp, and the force that its pivot carries.',
    formula: ['F_c = F * a / b * eta', 'F_p = equalText(pivot, "between") ? F + F_c : abs(F - F_c)'],
    method: [],
    assumes:
      'Cylinder and clamping force parallel; arms measured square to them. For a strap with a heel support take moments about the heel.',
    range: 'Efficiency is commonly 0.8 to 0.95 (common practice, no source).',
    sources: ['Balance of moments and forces on a lever.'],
    symbols: {
      cylinderForceN: {
        symbol: 'F',
        meaning: 'force of the cylinder on the lever',
      },
      cylinderArmM: {
        symbol: 'a',
        meaning: "pivot to the cylinder's line of action",
      },
      clampArmM: {
        symbol: 'b',
        meaning: 'pivot to the clamping point',
      },
      efficiency: {
        symbol: 'eta',
        meaning: 'share of the force left after friction in the pins',
      },
      pivot: {
        symbol: '',
        meaning: 'where the pivot is: between cylinder and clamping point, or at the end of the lever',
      },
      clampForceN: {
        symbol: 'F_c',
        meaning: 'force on the workpiece',
      },
      pivotForceN: {
        symbol: 'F_p',
        meaning: 'force in the pivot',
      },
    },
  },
  'rod-side-intensification': {
    summary: 'Pressure on the rod side of a cylinder whose rod port is blocked while the piston side is pressurised.',
    formula: ['p_rod = (p * pi * D^2 / 4 + F) / (pi * (D^2 - d^2) / 4)'],
    method: [],
    assumes:
      'No friction, rod at rest away from its end stops, oil shut in by a plug, an unmated coupler or a failed check valve.',
    range:
      'The relief valve of the piston side does not see this pressure: compare it with the weakest rating of the rod side.',
    sources: [
      'Balance of forces on the piston; example: rod side of half the area doubles the pressure (public fluid-power text).',
    ],
    symbols: {
      boreM: {
        symbol: 'D',
        meaning: "bore, the piston's diameter",
      },
      rodM: {
        symbol: 'd',
        meaning: 'rod diameter',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge pressure on the piston side',
      },
      externalPullN: {
        symbol: 'F',
        meaning: 'force that pulls the rod out',
      },
      rodSidePressurePa: {
        symbol: 'p_rod',
        meaning: 'gauge pressure of the oil shut in on the rod side',
      },
    },
  },
  'gauge-choice': {
    summary: 'Which gauge spans read the working pressure in the middle of the dial and survive the highest pressure.',
    formula: [],
    method: ['A span fits when low·span ≤ working ≤ high·span and highest ≤ span.'],
    assumes: 'Steady pressure; for pulsating pressure choose a lower upper share.',
    range:
      'Middle half of the span: common practice, tied to the middle half of ASME B40.100; 75 % for steady pressure from EN 837-2:1997 (from memory).',
    sources: ['Public gauge pages that tie the range to ASME B40.100; EN 837-2:1997 (from memory).'],
    symbols: {
      workingPa: {
        symbol: 'p_w',
        meaning: 'working pressure',
      },
      highestPa: {
        symbol: 'p_h',
        meaning: 'highest pressure that the gauge must survive',
      },
      spansPa: {
        symbol: '',
        meaning: 'spans to choose from [Pa]',
      },
      low: {
        symbol: 'lo',
        meaning: 'least share of the span at the working pressure',
      },
      high: {
        symbol: 'hi',
        meaning: 'greatest share of the span at the working pressure',
      },
      acceptablePa: {
        symbol: '',
        meaning: 'spans that fit, in the order given [Pa]',
      },
      recommendedPa: {
        symbol: 's',
        meaning: 'the smallest span that fits',
      },
    },
  },
  'gauge-error': {
    summary: 'Permissible error of a pressure gauge, by its class or by its grade at a reading, with temperature.',
    formula: [],
    method: [
      'Class: C % of span. Grade: the percentage of the quarter that the reading lies in (the ends of the middle half belong to it). Plus 0.04 % of span per K away from 20 °C.',
    ],
    assumes: 'Gauge within its calibration; reading error of the person not included.',
    range: 'Temperature effect from memory of EN 837-1; grades other than A from memory of ASME B40.100.',
    sources: [
      'EN 837-1:1996 Table 11 (text seen); ASME B40.100 grade A (seen), others from memory; 0.04 % per K from memory.',
    ],
    symbols: {
      spanPa: {
        symbol: 's',
        meaning: 'span of the gauge',
      },
      accuracyClass: {
        symbol: 'C',
        meaning: 'accuracy class of EN 837-1, % of span',
      },
      grade: {
        symbol: '',
        meaning: 'grade of ASME B40.100',
      },
      readingPa: {
        symbol: 'p',
        meaning: 'reading, with a grade',
      },
      temperatureK: {
        symbol: 'T',
        meaning: 'temperature of the gauge',
      },
      errorPa: {
        symbol: 'e',
        meaning: 'permissible error either way',
      },
    },
  },
  'circuit-required-pressure': {
    summary: 'Least pressure at which every clamp of a circuit gives the force asked of it.',
    formula: [],
    method: ['p = s · max(F · p_r / F_r) over the clamps; the first of equals governs.'],
    assumes: 'Clamp force proportional to pressure; one pressure for all clamps of the circuit.',
    range:
      "Within the clamps' own charts of force against pressure; a spring or a sequence valve adds its own least pressure.",
    sources: ['Force = pressure times area.'],
    symbols: {
      forceN: {
        symbol: 'F',
        meaning: 'force that the clamp must give at scale 1, as given to `holding-force`',
      },
      ratedForceN: {
        symbol: 'F_r',
        meaning: 'force of the clamp at its rated pressure',
      },
      ratedPressurePa: {
        symbol: 'p_r',
        meaning: 'pressure at which it gives its rated force',
      },
      clamps: {
        symbol: '',
        meaning: 'clamps of the circuit, at least one',
      },
      scale: {
        symbol: 's',
        meaning: 'factor on the clamp forces',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'least pressure of the circuit',
      },
      governingClamp: {
        symbol: '',
        meaning: 'index of the clamp that asks for the most, from 0',
      },
    },
  },
  'air-driven-pump': {
    summary: 'Stall pressure of an air-driven pump and its flow at a pressure, on a straight pump curve.',
    formula: ['p_s = i * p_air * eta', 'Q = p < p_s ? Q_0 * (1 - p / p_s) : 0'],
    method: [],
    assumes:
      'A straight line from free flow to stall (common practice, no source); a real curve hangs below it, more so with starved air.',
    range:
      'Efficiency 0.9 to 1 (common practice). Near stall the flow is uncertain: keep the setting at or below 0.9 of the stall pressure.',
    sources: ['Balance of forces on the stepped piston; the straight curve is common practice, no source.'],
    symbols: {
      pistonRatio: {
        symbol: 'i',
        meaning: 'piston ratio, oil pressure over air pressure',
      },
      airPressurePa: {
        symbol: 'p_air',
        meaning: 'gauge air pressure at the pump',
      },
      efficiency: {
        symbol: 'eta',
        meaning: 'share of the theoretical stall pressure that is reached',
      },
      freeFlowM3PerS: {
        symbol: 'Q_0',
        meaning: 'flow without back pressure',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge oil pressure at which the flow is wanted',
      },
      stallPressurePa: {
        symbol: 'p_s',
        meaning: 'pressure at which the pump stalls',
      },
      flowM3PerS: {
        symbol: 'Q',
        meaning: 'flow at the pressure',
      },
    },
  },
  'air-pressure-for-setting': {
    summary: 'Air pressure at which an air-driven pump stalls at a wanted oil pressure.',
    formula: ['p_air = p / (i * eta)'],
    method: [],
    assumes: 'Static balance of the stepped piston.',
    range: 'Efficiency 0.9 to 1 (common practice, no source). Check the result against the lowest plant air.',
    sources: ['Balance of forces on the stepped piston.'],
    symbols: {
      pistonRatio: {
        symbol: 'i',
        meaning: 'piston ratio, oil pressure over air pressure',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge oil pressure wanted at stall',
      },
      efficiency: {
        symbol: 'eta',
        meaning: 'share of the theoretical stall pressure that is reached',
      },
      airPressurePa: {
        symbol: 'p_air',
        meaning: 'gauge air pressure to set at the regulator',
      },
    },
  },
  'tolerance-stack': {
    summary:
      'A sum of toleranced terms: nominal, worst case, root sum square, and the probability to lie within limits.',
    formula: [],
    method: [
      'nominal = Σ s·nominal; worstCase = Σ |s|·halfWidth; rootSumSquare = √Σ(s·halfWidth)². Probability: exact by inclusion and exclusion over corners for uniform and triangular terms, else by a Fourier series of the characteristic function.',
    ],
    assumes:
      'Terms independent; normal: half width = 3 standard deviations, not cut off; uniform and triangular end at ± half width.',
    range: 'Linear in its terms; probability within 1e-5.',
    sources: [
      'Irwin 1927 and Hall 1927 (sum of uniforms), with unequal widths; inversion of a characteristic function by its Fourier series.',
    ],
    symbols: {
      nominal: {
        symbol: '',
        meaning: 'nominal value, in the unit of all terms; either sign',
      },
      halfWidth: {
        symbol: '',
        meaning: 'half width of the tolerance, in the unit of all terms, 0 <= halfWidth',
      },
      sensitivity: {
        symbol: 's',
        meaning: 'change of the sum per change of this term',
      },
      probability: {
        symbol: 'P',
        meaning: 'probability that the sum lies within the limits',
      },
    },
  },
  'hose-rating': {
    summary: 'Working pressure of a hose from its burst pressure.',
    formula: ['p_r = p_b / S'],
    method: [],
    assumes:
      'Hose as new; an assembly is rated by the least of hose and fittings, and pressure peaks stay below the rating.',
    range: 'Factor 4 for hydraulic hose; a smaller one gets a note.',
    sources: ['Four to one: public pages that cite SAE J343 and SAE J517 (standards not opened).'],
    symbols: {
      burstPressurePa: {
        symbol: 'p_b',
        meaning: 'burst pressure',
      },
      safetyFactor: {
        symbol: 'S',
        meaning: 'factor between burst and working pressure',
      },
      ratedPressurePa: {
        symbol: 'p_r',
        meaning: 'working pressure of the hose',
      },
    },
  },
  'pressure-chain': {
    summary: 'The weakest part of a line and how much of its rating the setting and the highest pressure use.',
    formula: [],
    method: ['Capacity of each part = rating × derating; the weakest has the least capacity (the first of equals).'],
    assumes:
      "Static pressures; a part's rating as its maker states it, at the temperature that the derating stands for.",
    range: 'Adequate when both ratios are at most 1.',
    sources: ['No part above its rated pressure: principle of ISO 4413:2010 (clause from memory).'],
    symbols: {
      ratingPa: {
        symbol: 'p_r',
        meaning: 'rated pressure',
      },
      derating: {
        symbol: 'k',
        meaning: 'share of the rating left by temperature or age',
      },
      settingPa: {
        symbol: 'p_s',
        meaning: 'working setting',
      },
      settingTolerancePa: {
        symbol: 'b',
        meaning: 'half width of the setting',
      },
      highestPa: {
        symbol: 'p_h',
        meaning: 'highest possible pressure',
      },
      parts: {
        symbol: '',
        meaning: 'every part that sees the pressure, at least one',
      },
      settingRatio: {
        symbol: 'r_s',
        meaning: 'setting with tolerance over capacity',
      },
      highestRatio: {
        symbol: 'r_h',
        meaning: 'highest pressure over capacity',
      },
    },
  },
  'tube-rating': {
    summary:
      "Pressure that a straight tube bears, by Barlow's formula on the outside diameter or by Lamé's for a thick wall.",
    formula: [
      't = t_n * (1 - tol)',
      'd = D - 2 * t',
      'p_r = equalText(method, "thin") ? 2 * S * t / D : S * (D^2 - d^2) / (D^2 + d^2)',
      'r = p / p_r',
      'sigma = S * r',
    ],
    method: [],
    assumes: 'Straight, round, seamless tube; static pressure; no allowance for bends, threads or corrosion.',
    range:
      "The thin formula is meant for t/D up to 0.1; above it a note says so (it stays on the safe side of Lamé's mean, not of its peak).",
    sources: [
      'Barlow: force balance of a half ring; Lamé: elastic thick cylinder (any text on strength of materials). Both derived anew for the check values.',
    ],
    symbols: {
      outerDiameterM: {
        symbol: 'D',
        meaning: 'outside diameter',
      },
      wallM: {
        symbol: 't_n',
        meaning: 'nominal wall',
      },
      allowableStressPa: {
        symbol: 'S',
        meaning: "allowable stress of the tube's material",
      },
      method: {
        symbol: '',
        meaning: 'formula: thin wall, or thick wall with the largest hoop stress at the bore',
      },
      wallTolerance: {
        symbol: 'tol',
        meaning: 'share of the wall that may be missing',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge pressure whose stress is wanted',
      },
      ratedPressurePa: {
        symbol: 'p_r',
        meaning: 'pressure at which the hoop stress reaches the allowable one',
      },
      hoopStressPa: {
        symbol: 'sigma',
        meaning: 'hoop stress at the pressure',
      },
      ratio: {
        symbol: 'r',
        meaning: 'pressure over rated pressure',
      },
    },
  },
  'switch-window': {
    summary:
      'Where the falling point of a pressure switch may lie: above what holds the workpiece, below what the setting reaches.',
    formula: [
      'f_lo = p + m + e_s + e_g',
      'r_hi = p_s - b - e_s - e_g',
      'f_hi = r_hi - H',
      'w = f_hi - f_lo',
      'f_lor = p + m + sqrt(e_s^2 + e_g^2)',
      'f_hir = p_s - H - sqrt(b^2 + e_s^2 + e_g^2)',
    ],
    method: [],
    assumes:
      "Errors add up at worst; the root sum square takes them as independent. The gauge's error counts: the switch is set by it.",
    range:
      'When not feasible: a better gauge, a smaller deadband, a higher setting or more clamp area; never leave the gauge out.',
    sources: ['Tolerance stack, worst case and root sum square; example reproduced by enumeration of all corners.'],
    symbols: {
      requiredPa: {
        symbol: 'p',
        meaning: 'least pressure that holds the workpiece',
      },
      settingPa: {
        symbol: 'p_s',
        meaning: 'working setting',
      },
      settingTolerancePa: {
        symbol: 'b',
        meaning: 'half width of the setting',
      },
      switchAccuracyPa: {
        symbol: 'e_s',
        meaning: "half width of the switch's falling and rising point, each",
      },
      deadbandPa: {
        symbol: 'H',
        meaning: 'rise from the falling to the rising point',
      },
      marginPa: {
        symbol: 'm',
        meaning: 'margin above the required pressure',
      },
      gaugeErrorPa: {
        symbol: 'e_g',
        meaning: 'error of the gauge that the switch is set by',
      },
      fallingLowestPa: {
        symbol: 'f_lo',
        meaning: 'lowest falling point that still stops in time',
      },
      risingHighestPa: {
        symbol: 'r_hi',
        meaning: 'highest rising point that is still reached',
      },
      fallingHighestPa: {
        symbol: 'f_hi',
        meaning: 'highest falling point whose rising point is still reached',
      },
      recommendedFallingPa: {
        symbol: 'f',
        meaning: 'middle of the window',
      },
      slackPa: {
        symbol: 'w',
        meaning: 'width of the window, negative when there is none',
      },
      fallingLowestRssPa: {
        symbol: 'f_lor',
        meaning: 'lowest falling point by root sum square',
      },
      fallingHighestRssPa: {
        symbol: 'f_hir',
        meaning: 'highest falling point by root sum square',
      },
    },
  },
  'trapped-oil-thermal-rise': {
    summary: 'Change of pressure of oil that is shut in while its temperature changes.',
    formula: ['dp = (alpha - alpha_w) * dT / (1 / K + 1 / K_c)'],
    method: [],
    assumes: 'Volume shut in without a leak or relief; oil and walls at one temperature; constant moduli.',
    range:
      'Mineral oil: alpha about 7e-4 1/K, K 1.4 to 1.9 GPa (from memory); about 11 bar/K. Air or hose lower it a lot.',
    sources: ['Balance of volumes; published example: 300 000 psi, 0.00046 1/°F, 70 to 120 °F give 6900 psi.'],
    symbols: {
      temperatureRiseK: {
        symbol: 'dT',
        meaning: 'change of temperature, cooling is negative',
      },
      expansionCoefficientPerK: {
        symbol: 'alpha',
        meaning: 'volumetric expansion of the oil',
      },
      bulkModulusPa: {
        symbol: 'K',
        meaning: 'bulk modulus of the oil',
      },
      wallExpansionPerK: {
        symbol: 'alpha_w',
        meaning: 'volumetric expansion of the walls',
      },
      containerModulusPa: {
        symbol: 'K_c',
        meaning: 'modulus of the container',
      },
      pressureRisePa: {
        symbol: 'dp',
        meaning: 'change of pressure',
      },
    },
  },
};
