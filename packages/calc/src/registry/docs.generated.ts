// Made by scripts/extract-docs.mjs from the docstrings of the calculation functions: change those, then run it.
import type { CalculationDoc } from './docs.types.js';

export const DOCS: Readonly<Record<string, CalculationDoc>> = {
  'accumulator-delivery': {
    summary: 'Oil that a gas accumulator gives between two pressures, and how long that feeds a leak.',
    formula: [
      'V_1 = V_0 * (1 - ((p_0 + 101325) / (p_1 + 101325))^(1 / n))',
      'V_2 = V_0 * (1 - ((p_0 + 101325) / (p_2 + 101325))^(1 / n))',
      'dV = V_2 - V_1',
      't = dV / q',
    ],
    method: [],
    assumes: 'Ideal gas; absolute pressures inside the formula; constant leak.',
    range: 'As `accumulator-volume`.',
    sources: ['Polytropic change of an ideal gas; published example 1 L between 100 and 200 bar.'],
    symbols: {
      sizeM3: {
        symbol: 'V_0',
        meaning: 'gas volume of the accumulator',
      },
      prechargePressurePa: {
        symbol: 'p_0',
        meaning: 'gauge gas pressure without oil',
      },
      pressureLowPa: {
        symbol: 'p_1',
        meaning: 'lower gauge working pressure',
      },
      pressureHighPa: {
        symbol: 'p_2',
        meaning: 'upper gauge working pressure',
      },
      polytropic: {
        symbol: 'n',
        meaning: 'polytropic exponent',
      },
      leakRateM3PerS: {
        symbol: 'q',
        meaning: 'leak that it must make up',
      },
      oilAtLowM3: {
        symbol: 'V_1',
        meaning: 'oil inside at the low pressure',
      },
      oilAtHighM3: {
        symbol: 'V_2',
        meaning: 'oil inside at the high pressure',
      },
      oilVolumeM3: {
        symbol: 'dV',
        meaning: 'oil given between the two',
      },
      holdTimeS: {
        symbol: 't',
        meaning: 'time that it feeds the leak',
      },
    },
  },
  'accumulator-volume': {
    summary: 'Size of a gas accumulator that gives an amount of oil between two pressures.',
    formula: ['V_0 = dV / (((p_0 + 101325) / (p_1 + 101325))^(1 / n) - ((p_0 + 101325) / (p_2 + 101325))^(1 / n))'],
    method: [],
    assumes: 'Ideal gas; absolute pressures inside the formula.',
    range:
      'n 1 for slow holding, 1.4 for fast delivery below about 200 bar. Precharge at most 0.9 of the low pressure, high pressure at most 4 times the precharge: else a note.',
    sources: [
      'Polytropic change of an ideal gas; rules for bladder and diaphragm types from public fluid-power pages.',
    ],
    symbols: {
      oilVolumeM3: {
        symbol: 'dV',
        meaning: 'oil to be given between the two pressures',
      },
      prechargePressurePa: {
        symbol: 'p_0',
        meaning: 'gauge gas pressure without oil',
      },
      pressureLowPa: {
        symbol: 'p_1',
        meaning: 'lower gauge working pressure',
      },
      pressureHighPa: {
        symbol: 'p_2',
        meaning: 'upper gauge working pressure',
      },
      polytropic: {
        symbol: 'n',
        meaning: 'polytropic exponent',
      },
      sizeM3: {
        symbol: 'V_0',
        meaning: 'gas volume of the accumulator',
      },
    },
  },
  'precharge-at-temperature': {
    summary: 'Precharge of an accumulator at another temperature than it was set at.',
    formula: ['p_2 = (p + 101325) * T_2 / T_1 - 101325'],
    method: [],
    assumes: 'Ideal gas, constant gas volume, no oil inside.',
    range: 'Precharge is about 3 % lower for each 10 K colder.',
    sources: ['Ideal gas at constant volume.'],
    symbols: {
      prechargePressurePa: {
        symbol: 'p',
        meaning: 'gauge gas pressure as set',
      },
      temperatureK: {
        symbol: 'T_1',
        meaning: 'temperature at which it was set',
      },
      newTemperatureK: {
        symbol: 'T_2',
        meaning: 'temperature asked about',
      },
      pressurePa: {
        symbol: 'p_2',
        meaning: 'gauge gas pressure at the other temperature',
      },
    },
  },
  'count-cusum-arl': {
    summary: 'Average run length of a cumulative sum of counts.',
    formula: [],
    method: [
      'S = max(0, S + X − k) (lower: S + k − X), X Poisson, signal when S ≥ h. Exact Markov chain on the lattice of the common step of k, h, head start and one, solved by state reduction without subtraction.',
    ],
    assumes: 'Counts independent, Poisson, equal exposure each.',
    range: 'A common step below 0.001 is refused. Test for over-dispersion before Poisson limits are used.',
    sources: ['Lucas 1985 (Technometrics 27:129): k 0.25, h 10, mean 0.25 gives 438, with head start 5 gives 333.'],
    symbols: {
      k: {
        symbol: 'k',
        meaning: 'reference value',
      },
      h: {
        symbol: 'h',
        meaning: 'decision limit, a signal when S >= h',
      },
      mean: {
        symbol: 'm',
        meaning: 'true mean of the counts',
      },
      headstart: {
        symbol: 'S_0',
        meaning: 'where the sum starts',
      },
      inControlMean: {
        symbol: 'm_0',
        meaning: 'mean in control',
      },
      outOfControlMean: {
        symbol: 'm_1',
        meaning: 'mean out of control',
      },
      arl: {
        symbol: '',
        meaning: 'average run length at the true mean; null: never signals',
      },
    },
  },
  'count-cusum-design': {
    summary:
      'Reference value and decision limit of a cumulative sum of counts for a wanted interval between false signals.',
    formula: [],
    method: [
      'k = (m₁ − m₀)/ln(m₁/m₀) rounded to the nearest multiple of the step (at least one); h = the least multiple with arl0 ≥ target, by doubling and halving on exact run lengths.',
    ],
    assumes: 'As `count-cusum-arl`, no head start.',
    range: 'As `count-cusum-arl`.',
    sources: ['Lucas 1985 (Technometrics 27:129) for k; run lengths exact.'],
    symbols: {
      inControlMean: {
        symbol: 'm_0',
        meaning: 'mean in control',
      },
      outOfControlMean: {
        symbol: 'm_1',
        meaning: 'mean to be found soon',
      },
      targetArl0: {
        symbol: 'L_0',
        meaning: 'least average run length in control',
      },
      step: {
        symbol: 's',
        meaning: 'k and h are multiples of this',
      },
      k: {
        symbol: 'k',
        meaning: 'reference value',
      },
      h: {
        symbol: 'h',
        meaning: 'decision limit',
      },
      arl0: {
        symbol: '',
        meaning: 'average run length in control',
      },
      arl1: {
        symbol: '',
        meaning: 'average run length at the mean to be found',
      },
    },
  },
  'count-rate-interval': {
    summary: 'Rate of events with its exact confidence interval.',
    formula: [],
    method: [
      'lower = χ²(α/2; 2x)/2/T, 0 for no events; upper = χ²(1 − α/2; 2x + 2)/2/T, each tail (1 − confidence)/2.',
    ],
    assumes: 'Events independent, at a constant rate over the exposure (Poisson).',
    range:
      'With five to ten events report the interval, not the rate alone. Exposure is machine hours or cycles, not calendar days.',
    sources: ['Garwood 1936 (Biometrika 28:437); published limits: 10 events, 4.795 to 18.39.'],
    symbols: {
      events: {
        symbol: 'x',
        meaning: 'number of events',
      },
      exposure: {
        symbol: 'T',
        meaning: 'exposure, in days or a plain number',
      },
      confidence: {
        symbol: 'c',
        meaning: 'confidence of the interval',
      },
      rate: {
        symbol: 'r',
        meaning: 'events per exposure',
      },
      lower: {
        symbol: 'r_lo',
        meaning: 'lower end of the rate',
      },
      upper: {
        symbol: 'r_hi',
        meaning: 'upper end of the rate',
      },
      meanTime: {
        symbol: '',
        meaning: 'exposure per event; null for no events',
      },
      meanTimeUpper: {
        symbol: '',
        meaning: 'null for no events',
      },
    },
  },
  'drift-crossing': {
    summary: 'Slope of a series that single outliers do not move, its interval, and when it crosses a threshold.',
    formula: [],
    method: [
      "Theil–Sen: median of all pairwise slopes; interval by Kendall's τ: C = z·√Var S, ranks round((N − C)/2) and round((N + C)/2) + 1 of the N slopes in order; intercept = median(value − slope·time); crossing = (threshold − intercept)/slope; the same with each end of the interval, its own intercept.",
    ],
    assumes: 'Errors independent and alike; a straight drift.',
    range: 'Three values at least; the interval is wide below about eight.',
    sources: ['Sen 1968 (J. Am. Stat. Assoc. 63:1379), with his example: slope 4, 93 % interval 3.71 to 4.38.'],
    symbols: {
      time: {
        symbol: '',
        meaning: 'time, in days or a plain number',
      },
      value: {
        symbol: '',
        meaning: 'value, in the unit of the first',
      },
      threshold: {
        symbol: '',
        meaning: 'value asked about, in the unit of the series',
      },
      confidence: {
        symbol: 'c',
        meaning: 'confidence of the interval',
      },
      drifting: {
        symbol: '',
        meaning: 'the interval of the slope leaves out zero',
      },
      crossingTime: {
        symbol: '',
        meaning: 'null when not drifting',
      },
    },
  },
  'ewma-arl': {
    summary: 'Average run length of an exponentially weighted moving average with fixed limits on both sides.',
    formula: [],
    method: [
      'Integral equation over (−c, c), c = L·√(λ/(2 − λ)), by Gauss–Legendre nodes with zero among them, solved by state reduction without subtraction; started at zero.',
    ],
    assumes: 'Samples independent, normal, standard deviation one; fixed limits.',
    range: 'Better than 0.1 %. Published tables contain misprints: compute again.',
    sources: ['Crowder 1987 (Technometrics 29:401); Lucas & Saccucci 1990 (Technometrics 32:1).'],
    symbols: {
      lambda: {
        symbol: 'lambda',
        meaning: 'weight of the newest value',
      },
      limit: {
        symbol: 'L',
        meaning: 'limit in standard deviations of the settled average',
      },
      shift: {
        symbol: 'delta',
        meaning: 'shift of the mean in standard deviations',
      },
      arl: {
        symbol: '',
        meaning: 'average run length in samples',
      },
    },
  },
  'gamma-poisson': {
    summary: 'Rate of events from a prior and counts, and the probability of none ahead.',
    formula: ['m = (a + x) / (b + T)', 'P_0 = ((b + T) / (b + T + h))^(a + x)'],
    method: [],
    assumes: 'Rate ~ Gamma(a, b); events independent given the rate. Interval with equal tails of Gamma(a + x, b + T).',
    range: 'The prior must be stated beside the result.',
    sources: ['Conjugate prior of the Poisson distribution (any text on Bayesian statistics).'],
    symbols: {
      priorShape: {
        symbol: 'a',
        meaning: 'shape of the prior',
      },
      priorExposure: {
        symbol: 'b',
        meaning: 'exposure that the prior is worth, in days or plain',
      },
      events: {
        symbol: 'x',
        meaning: 'number of events',
      },
      exposure: {
        symbol: 'T',
        meaning: 'exposure, in days or plain',
      },
      horizon: {
        symbol: 'h',
        meaning: 'exposure ahead',
      },
      confidence: {
        symbol: 'c',
        meaning: 'probability inside the interval',
      },
      mean: {
        symbol: 'm',
        meaning: 'mean of the rate',
      },
      probabilityZero: {
        symbol: 'P_0',
        meaning: 'probability of no event within the horizon',
      },
    },
  },
  'normal-cusum-arl': {
    summary: 'Average run length of a cumulative sum of standardised normal values.',
    formula: [],
    method: [
      'Integral equation L(u) = 1 + Φ(k − u − δ)·L(0) + ∫₀ʰ φ(x + k − u − δ)·L(x) dx by Gauss–Legendre nodes, solved by state reduction without subtraction; two-sided: 1/arl = 1/arl⁺ + 1/arl⁻.',
    ],
    assumes: 'Samples independent, normal, standard deviation one.',
    range: 'Better than 0.1 %; a start above zero one-sided only.',
    sources: [
      'Page 1954; Lucas & Crosier 1982 (two-sided, k 0.5, h 4: 168, 26.6, 8.38 …); Brook & Evans 1972 (117.59).',
    ],
    symbols: {
      k: {
        symbol: 'k',
        meaning: 'reference value in standard deviations',
      },
      h: {
        symbol: 'h',
        meaning: 'decision limit in standard deviations',
      },
      shift: {
        symbol: 'delta',
        meaning: 'shift of the mean in standard deviations',
      },
      headstart: {
        symbol: 'S_0',
        meaning: 'where the sum starts, one-sided only',
      },
      arl: {
        symbol: '',
        meaning: 'average run length in samples',
      },
    },
  },
  'particle-code': {
    summary: 'Cleanliness code of an oil from counted particles.',
    formula: [],
    method: [
      'Scale number of each count: "more than … up to and including" the limits of the scale; a count on the border belongs to the lower number.',
    ],
    assumes: 'Counts by an automatic counter calibrated to µm(c).',
    range:
      'Up to 2.5 million per mL. Under number 8 with fewer than 20 particles counted report with "≥": a note says so.',
    sources: ['ISO 4406:2021, scale.'],
    symbols: {
      above4PerM3: {
        symbol: 'n_4',
        meaning: 'particles larger than 4 µm(c)',
      },
      above6PerM3: {
        symbol: 'n_6',
        meaning: 'particles larger than 6 µm(c)',
      },
      above14PerM3: {
        symbol: 'n_14',
        meaning: 'particles larger than 14 µm(c)',
      },
      code: {
        symbol: '',
        meaning: 'such as 18/16/13',
      },
    },
  },
  'weibull-life': {
    summary: 'Weibull distribution of lives, some of them still running.',
    formula: [],
    method: [
      'ml: maximum likelihood with right-censored suspensions; rank: median ranks with adjusted ranks, ln t regressed on ln(−ln(1 − F)). B10 = scale·(−ln 0.9)^(1/shape).',
    ],
    assumes: 'One mode of failure; suspensions unrelated to the failures.',
    range:
      'The two methods can differ by half on few failures: name the method beside each number. Needs two different failures.',
    sources: [
      "Maximum likelihood: NIST/SEMATECH e-Handbook 8.4; data of Lieblein & Zelen 1956 give 2.102 and 81.88. Median ranks: Bernard's approximation.",
    ],
    symbols: {
      failures: {
        symbol: '',
        meaning: 'lives of what failed, in days or plain, each > 0',
      },
      suspensions: {
        symbol: '',
        meaning: 'ages of what has not failed, each > 0',
      },
      shape: {
        symbol: 'beta',
        meaning: 'shape',
      },
      scale: {
        symbol: 'eta',
        meaning: 'scale, the life that 63.2 % fail within',
      },
      b10: {
        symbol: 'B_10',
        meaning: 'life that 10 % fail within',
      },
    },
  },
  'weibull-reliability': {
    summary: 'Hazard and reliability at an age, from a Weibull distribution.',
    formula: [
      'hazard = beta / eta * (t / eta)^(beta - 1)',
      'R = exp(-(t / eta)^beta)',
      'R_c = exp((t / eta)^beta - ((t + D) / eta)^beta)',
      'B_10 = eta * (-log(0.9))^(1 / beta)',
    ],
    method: [],
    assumes: 'The distribution is known.',
    range: 'Shape below one: early failures, replacing does not help; above one: wear.',
    sources: ['Weibull 1951; data of the example: Lieblein & Zelen 1956.'],
    symbols: {
      shape: {
        symbol: 'beta',
        meaning: 'shape',
      },
      scale: {
        symbol: 'eta',
        meaning: 'scale, in days or plain',
      },
      age: {
        symbol: 't',
        meaning: 'age',
      },
      interval: {
        symbol: 'D',
        meaning: 'interval ahead',
      },
      hazard: {
        symbol: 'hazard',
        meaning: 'failures per time among those alive',
      },
      reliability: {
        symbol: 'R',
        meaning: 'share that reaches the age',
      },
      conditionalReliability: {
        symbol: 'R_c',
        meaning: 'share of those alive that also gets through the interval',
      },
      b10: {
        symbol: 'B_10',
        meaning: 'life that 10 % fail within',
      },
    },
  },
  'drilling-force': {
    summary: 'Thrust, torque and power of drilling into the full.',
    formula: [
      'h = f / 2 * sin(sigma / 2)',
      'k_c = k * (h * 1000)^(-m)',
      'M = k_c * f * D^2 / 8',
      'F = c * k_c * f * D / 2 * sin(sigma / 2)',
      'P = M * 2 * pi * n / eta',
    ],
    method: [],
    assumes: 'Two lips; reference unit of the chip thickness: mm.',
    range:
      'A wide web or a worn drill can double the thrust of a sharp one (common practice). Breaking through pulls the part up: check lifting.',
    sources: [
      'Torque from the definition of kc; thrust: two published forms a factor of two apart, the larger by default.',
    ],
    symbols: {
      kc11Pa: {
        symbol: 'k',
        meaning: 'specific cutting force at 1 mm by 1 mm',
      },
      mc: {
        symbol: 'm',
        meaning: 'exponent of the chip thickness',
      },
      diameterM: {
        symbol: 'D',
        meaning: 'diameter of the drill',
      },
      feedM: {
        symbol: 'f',
        meaning: 'feed per turn',
      },
      pointAngleRad: {
        symbol: 'sigma',
        meaning: 'point angle',
      },
      speedHz: {
        symbol: 'n',
        meaning: 'speed of the spindle',
      },
      efficiency: {
        symbol: 'eta',
        meaning: 'efficiency of the drive',
      },
      thrustFactor: {
        symbol: 'c',
        meaning: 'factor on the thrust, 1 on the safe side, 0.5 a sharp drill',
      },
      thrustN: {
        symbol: 'F',
        meaning: 'thrust along the drill',
      },
      torqueNm: {
        symbol: 'M',
        meaning: 'torque',
      },
      powerW: {
        symbol: 'P',
        meaning: 'power of the drive',
      },
    },
  },
  'milling-force': {
    summary: 'Cutting forces, power and torque of a milling cutter, mean over the arc and at its worst angle.',
    formula: [
      'arc = phi_2 - phi_1',
      'h_m = f_z * sin(kappa) * (cos(phi_1) - cos(phi_2)) / arc',
      'z_e = z * arc / (2 * pi)',
      'k_m = k * (h_m * 1000)^(-m)',
      'F_m = k_m * a_p / sin(kappa) * h_m * w',
      'Q = a_p * a_e * f_z * z * n',
      'P = Q * k_m * w',
      'M = a_p * a_e * f_z * z * k_m * w / (2 * pi)',
    ],
    method: [],
    assumes:
      'h(φ) = f_z·sin κ·sin φ, φ from where an up-cut chip starts; up: 0 … acos(1 − 2a_e/D); down: its mirror, ending at 180°; centred: 90° ± asin(a_e/D). Reference unit of the chip thickness: mm. Peak: largest sum of kc11·b·h^(1−mc)·wear over all teeth in cut, equal pitch, closed arc.',
    range:
      'Chip thickness about 0.05 to 2.5 mm: outside a note. The force turns through the arc: check several directions. For clamping take the peak.',
    sources: [
      'Kienzle & Victor 1957; mean chip thickness as in Dietrich/Tschätsch 2014; peak derived here, checked by quadrature.',
    ],
    symbols: {
      kc11Pa: {
        symbol: 'k',
        meaning: 'specific cutting force at 1 mm by 1 mm',
      },
      mc: {
        symbol: 'm',
        meaning: 'exponent of the chip thickness',
      },
      cutterDiameterM: {
        symbol: 'D',
        meaning: 'cutter diameter',
      },
      teeth: {
        symbol: 'z',
        meaning: 'number of teeth',
      },
      feedPerToothM: {
        symbol: 'f_z',
        meaning: 'feed per tooth',
      },
      axialDepthM: {
        symbol: 'a_p',
        meaning: 'axial depth',
      },
      radialWidthM: {
        symbol: 'a_e',
        meaning: 'radial width',
      },
      entryAngleRad: {
        symbol: 'phi_1',
        meaning: 'where the edge enters',
      },
      exitAngleRad: {
        symbol: 'phi_2',
        meaning: 'where the edge leaves',
      },
      leadAngleRad: {
        symbol: 'kappa',
        meaning: 'cutting edge angle, for a helix 90° less the helix',
      },
      speedHz: {
        symbol: 'n',
        meaning: 'speed of the spindle',
      },
      cuttingSpeedMPerS: {
        symbol: 'v_c',
        meaning: 'cutting speed',
      },
      wear: {
        symbol: 'w',
        meaning: 'product of wear and other corrections',
      },
      meanChipThicknessM: {
        symbol: 'h_m',
        meaning: 'mean chip thickness over the arc',
      },
      teethEngaged: {
        symbol: 'z_e',
        meaning: 'teeth in cut on average',
      },
      meanTangentialForcePerToothN: {
        symbol: 'F_m',
        meaning: 'tangential force of a tooth at the mean chip thickness',
      },
      peakTangentialForceN: {
        symbol: 'F_p',
        meaning: 'largest sum of tangential forces of all teeth in cut',
      },
      materialRemovalRateM3PerS: {
        symbol: 'Q',
        meaning: 'material removed',
      },
      meanPowerW: {
        symbol: 'P',
        meaning: 'mean power',
      },
      torqueNm: {
        symbol: 'M',
        meaning: 'mean torque',
      },
    },
  },
  'removal-power': {
    summary: 'Power of a cut from the rate of removal, by the power-constant method.',
    formula: ['P_c = K_p * C * Q * W', 'P_m = P_c / E', 'F = P_c / v'],
    method: [],
    assumes: 'Constants of the same table for Kp and C; 1 kW·s/cm³ = 1000 N/mm².',
    range: 'Feed factor C: 1.25 at 0.10 mm, 1.08 at 0.20, 1.00 at 0.30, 0.94 at 0.40.',
    sources: ["Machinery's Handbook, 31st ed., Table 1b (Kp), 28th ed., Table 2 (C)."],
    symbols: {
      specificPowerPa: {
        symbol: 'K_p',
        meaning: 'power per rate of removal',
      },
      removalRateM3PerS: {
        symbol: 'Q',
        meaning: 'material removed',
      },
      feedFactor: {
        symbol: 'C',
        meaning: 'factor for the feed',
      },
      wearFactor: {
        symbol: 'W',
        meaning: 'factor for wear',
      },
      efficiency: {
        symbol: 'E',
        meaning: 'efficiency of the drive',
      },
      cuttingSpeedMPerS: {
        symbol: 'v',
        meaning: 'cutting speed',
      },
      cuttingPowerW: {
        symbol: 'P_c',
        meaning: 'power at the cut',
      },
      motorPowerW: {
        symbol: 'P_m',
        meaning: 'power of the motor',
      },
      tangentialForceN: {
        symbol: 'F',
        meaning: 'tangential force',
      },
    },
  },
  'specific-cutting-force': {
    summary: 'Specific cutting force by the law of Kienzle, and the force of a chip of a width.',
    formula: ['g = (gamma - gamma_0) * 180 / pi', 'k_c = k * (h * 1000)^(-m) * (1 - g / 100) * C', 'F = k_c * b * h'],
    method: [],
    assumes: 'Reference units: chip thickness in mm, angles in degrees. Sharp tool but for the correction.',
    range:
      'Chip thickness about 0.05 to 2.5 mm (from memory): outside a note. Values of kc11 scatter by 20 % between sources.',
    sources: ['Kienzle & Victor 1957; corrections after Dietrich/Tschätsch, Praxis der Zerspantechnik, 11th ed. 2014.'],
    symbols: {
      kc11Pa: {
        symbol: 'k',
        meaning: 'specific cutting force at 1 mm by 1 mm',
      },
      mc: {
        symbol: 'm',
        meaning: 'exponent of the chip thickness',
      },
      chipThicknessM: {
        symbol: 'h',
        meaning: 'chip thickness',
      },
      rakeAngleRad: {
        symbol: 'gamma',
        meaning: 'rake angle',
      },
      referenceRakeRad: {
        symbol: 'gamma_0',
        meaning: 'rake angle that kc11 was measured at',
      },
      correction: {
        symbol: 'C',
        meaning: 'product of wear, speed, compression …',
      },
      widthM: {
        symbol: 'b',
        meaning: 'width of the chip',
      },
      kcPa: {
        symbol: 'k_c',
        meaning: 'specific cutting force',
      },
      forceN: {
        symbol: 'F',
        meaning: 'cutting force at the width',
      },
    },
  },
  'tapping-torque': {
    summary: 'Torque and power of tapping a thread.',
    formula: ['M = k_c * P_t^2 * D / 8 * w', 'P = M * 2 * pi * n'],
    method: [],
    assumes: 'The specific force is one for tapping, which is higher than that of milling.',
    range:
      'Unalloyed steel 2300, tempered 2600, austenitic 3200, grey iron 1250, aluminium 680 to 800 N/mm² (published with the formula).',
    sources: ['Published tapping formula with its values of kc.'],
    symbols: {
      kcPa: {
        symbol: 'k_c',
        meaning: 'specific cutting force for tapping',
      },
      pitchM: {
        symbol: 'P_t',
        meaning: 'pitch of the thread',
      },
      diameterM: {
        symbol: 'D',
        meaning: 'nominal diameter',
      },
      wear: {
        symbol: 'w',
        meaning: 'factor for wear',
      },
      speedHz: {
        symbol: 'n',
        meaning: 'speed of the spindle',
      },
      torqueNm: {
        symbol: 'M',
        meaning: 'torque',
      },
      powerW: {
        symbol: 'P',
        meaning: 'power',
      },
    },
  },
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
  'cylinder-speed': {
    summary: 'Speeds of a double-acting cylinder at a flow, and what its return line must carry.',
    formula: [
      'A_p = pi * D^2 / 4',
      'A_a = pi * (D^2 - d^2) / 4',
      'v_e = Q / A_p',
      'v_r = Q / A_a',
      'Q_e = Q * A_a / A_p',
      'Q_r = Q * A_p / A_a',
    ],
    method: [],
    assumes: 'Incompressible oil, no leakage, steady speed.',
    range: 'On retraction the return line carries more than the pump gives.',
    sources: ['Continuity.'],
    symbols: {
      flowM3PerS: {
        symbol: 'Q',
        meaning: 'flow into the cylinder',
      },
      boreM: {
        symbol: 'D',
        meaning: "bore, the piston's diameter",
      },
      rodM: {
        symbol: 'd',
        meaning: 'rod diameter',
      },
      extendSpeedMPerS: {
        symbol: 'v_e',
        meaning: 'speed while extending',
      },
      retractSpeedMPerS: {
        symbol: 'v_r',
        meaning: 'speed while retracting',
      },
      extendReturnFlowM3PerS: {
        symbol: 'Q_e',
        meaning: 'flow out of the rod side while extending',
      },
      retractReturnFlowM3PerS: {
        symbol: 'Q_r',
        meaning: 'flow out of the piston side while retracting',
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
  'swing-clamp-force': {
    summary: 'Clamping force of a swing clamp with its arm, from the friction of two guide bearings.',
    formula: ['F = p * pi * (D^2 - d^2) / 4 / (1 + 2 * mu * L / b)', 'F_b = F * L / b', 'M = F * L'],
    method: [],
    assumes: 'Arm and rod rigid; two bearings carry the moment of the arm; force on the pull (annulus) side.',
    range: "An estimate from mechanics, not a standard: the component's own chart of force, arm and pressure wins.",
    sources: ['Derived here from the balance of forces and moments; no published source.'],
    symbols: {
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge pressure that pulls the piston down',
      },
      boreM: {
        symbol: 'D',
        meaning: "bore, the piston's diameter",
      },
      rodM: {
        symbol: 'd',
        meaning: 'rod diameter',
      },
      armLengthM: {
        symbol: 'L',
        meaning: 'piston axis to the clamping point',
      },
      guideSpacingM: {
        symbol: 'b',
        meaning: 'distance between the two guide bearings',
      },
      guideFriction: {
        symbol: 'mu',
        meaning: 'friction in the guide bearings',
      },
      clampForceN: {
        symbol: 'F',
        meaning: 'force on the workpiece',
      },
      bearingForceN: {
        symbol: 'F_b',
        meaning: 'side force in each guide bearing',
      },
      bendingMomentNm: {
        symbol: 'M',
        meaning: 'bending moment of the rod',
      },
    },
  },
  'coil-release': {
    summary:
      'How long a solenoid holds on after it is switched off, and the voltage that its suppressor leaves on the switch.',
    formula: ['E = L * (V / R)^2 / 2', 't = L / R * log((V + V_c) / (q * V + V_c))', 'V_p = V + V_c'],
    method: [],
    assumes: 'Constant inductance; suppressor of constant voltage across the coil; no eddy currents.',
    range:
      'A plain diode (0.7 V) is slow, a Zener or transient suppressor fast; the peak voltage must stay below the rating of the output.',
    sources: ['Solution of L·di/dt + R·i + V_c = 0.'],
    symbols: {
      inductanceH: {
        symbol: 'L',
        meaning: 'inductance of the coil',
      },
      resistanceOhm: {
        symbol: 'R',
        meaning: 'resistance of the coil',
      },
      supplyVoltageV: {
        symbol: 'V',
        meaning: 'voltage of the supply',
      },
      clampVoltageV: {
        symbol: 'V_c',
        meaning: 'voltage across the suppressor while the current falls',
      },
      fraction: {
        symbol: 'q',
        meaning: 'share of the holding current at which the valve lets go',
      },
      energyJ: {
        symbol: 'E',
        meaning: 'energy stored in the coil',
      },
      releaseTimeS: {
        symbol: 't',
        meaning: 'time until the current has fallen to the share',
      },
      peakVoltageV: {
        symbol: 'V_p',
        meaning: 'voltage over the switch that opens',
      },
    },
  },
  'conductor-resistance': {
    summary: 'Resistance of one copper conductor by its gauge or cross-section.',
    formula: [
      'd = 0.127e-3 * 92^((36 - n) / 39)',
      'A = pi * d^2 / 4',
      'R = 1.7241e-8 * L / A * (1 + 0.00393 * (T - 293.15))',
    ],
    method: [],
    assumes: 'Solid annealed copper; a stranded conductor of the same gauge has a few per cent more.',
    range: 'DC and low frequency.',
    sources: ['ASTM B258 (diameters); published table: 6.385 Ω per 1000 ft of 18 AWG.'],
    symbols: {
      gauge: {
        symbol: 'n',
        meaning: 'AWG number, 0 is 1/0, −1 is 2/0',
      },
      crossSectionM2: {
        symbol: 'A',
        meaning: 'cross-section of the copper',
      },
      lengthM: {
        symbol: 'L',
        meaning: 'length of the conductor',
      },
      temperatureK: {
        symbol: 'T',
        meaning: 'temperature of the conductor',
      },
      diameterM: {
        symbol: 'd',
        meaning: 'diameter of a solid conductor of this cross-section',
      },
      resistanceOhm: {
        symbol: 'R',
        meaning: 'resistance of one conductor',
      },
    },
  },
  'control-supply': {
    summary: 'Whether a control supply carries its loads, with reserve and inrush.',
    formula: [],
    method: [
      'steady = Σ watts·simultaneous; peak = Σ watts·simultaneous·inrush; required = steady·(1 + reserve); adequate = required ≤ rating and peak ≤ peak rating, where one is given.',
    ],
    assumes: 'Every inrush at the same moment.',
    range: 'Reserve 0.2 to 0.3 (common practice, no source). One fused branch for each function.',
    sources: ['Sum of powers; reserve from common practice.'],
    symbols: {
      wattsW: {
        symbol: 'P',
        meaning: 'power of one',
      },
      count: {
        symbol: '',
        meaning: 'how many there are',
      },
      simultaneous: {
        symbol: '',
        meaning: 'how many of them are on together; left out: all',
      },
      inrushFactor: {
        symbol: 'k',
        meaning: 'power when switched on over steady power',
      },
      supplyRatingW: {
        symbol: 'P_s',
        meaning: 'rated power of the supply',
      },
      reserve: {
        symbol: 'r',
        meaning: 'reserve asked for',
      },
      voltageV: {
        symbol: 'V',
        meaning: 'voltage of the supply',
      },
      peakRatingW: {
        symbol: 'P_p',
        meaning: 'power that the supply gives for a moment',
      },
      steadyLoadW: {
        symbol: 'P_l',
        meaning: 'power of all that is on together',
      },
      peakLoadW: {
        symbol: 'P_k',
        meaning: 'power when all that is switched on together',
      },
      requiredRatingW: {
        symbol: 'P_r',
        meaning: 'rating asked for',
      },
      currentA: {
        symbol: 'I',
        meaning: 'current at that rating',
      },
      utilisation: {
        symbol: 'u',
        meaning: 'steady load over rating',
      },
    },
  },
  'dc-line-drop': {
    summary: 'Voltage that arrives at a DC load at the end of a cable.',
    formula: [],
    method: [
      'Loop resistance R = 2 × `conductor-resistance`. A coil: I = V_s/(R + V_r²/W); a current: as given. Drop = R·I.',
    ],
    assumes: 'Both conductors alike and at one temperature; contacts without resistance.',
    range: "Coils commonly work within ±10 % of their rated voltage (common practice): use the data sheet's.",
    sources: ["Ohm's law; ASTM B258 for gauges."],
    symbols: {
      supplyVoltageV: {
        symbol: 'V_s',
        meaning: 'voltage of the supply',
      },
      load: {
        symbol: '',
        meaning: 'a coil by its power at rated voltage, or a current that is drawn whatever the voltage',
      },
      gauge: {
        symbol: 'n',
        meaning: 'AWG number',
      },
      crossSectionM2: {
        symbol: 'A',
        meaning: 'cross-section of the copper',
      },
      lengthM: {
        symbol: 'L',
        meaning: 'length of the cable, one way',
      },
      temperatureK: {
        symbol: 'T',
        meaning: 'temperature of the conductors',
      },
      ratedVoltageV: {
        symbol: 'V_r',
        meaning: 'rated voltage of the load',
      },
      tolerance: {
        symbol: 'tol',
        meaning: 'tolerance of the rated voltage',
      },
      currentA: {
        symbol: 'I',
        meaning: 'current',
      },
      dropV: {
        symbol: 'dV',
        meaning: 'loss over both conductors',
      },
      voltageAtLoadV: {
        symbol: 'V',
        meaning: 'voltage at the load',
      },
      dropPercent: {
        symbol: 'r',
        meaning: 'loss in per cent of the supply voltage',
      },
    },
  },
  'protection-choice': {
    summary: 'Next standard size of a protective device for a load, and whether it protects the conductor.',
    formula: [],
    method: [
      'required = 1.25 × load when continuous; protection = the next standard size; adequate = protection ≤ limit of the conductor.',
    ],
    assumes: 'Copper; motors and transformers follow other articles.',
    range:
      'No standard size protects 18 or 16 AWG by itself: a supplementary device is needed. The local code decides.',
    sources: ['NEC (NFPA 70) 240.4(D) and 240.6(A), partly from memory; 125 % for continuous loads from memory.'],
    symbols: {
      loadA: {
        symbol: 'I',
        meaning: 'current of the load',
      },
      continuous: {
        symbol: '',
        meaning: 'on for three hours or more',
      },
      gauge: {
        symbol: '',
        meaning: 'AWG number of the copper conductor: 18, 16, 14, 12 or 10',
      },
      requiredRatingA: {
        symbol: 'I_r',
        meaning: 'rating asked for',
      },
      protectionA: {
        symbol: 'I_p',
        meaning: 'next standard size',
      },
      conductorLimitA: {
        symbol: 'I_c',
        meaning: 'largest protection of the conductor',
      },
      adequate: {
        symbol: '',
        meaning: 'the protection protects the conductor; left out without a gauge',
      },
    },
  },
  'clamp-sequence': {
    summary: 'The clamping transient of a circuit: strokes, contact, rise of pressure, and when the switch makes.',
    formula: [],
    method: [
      "Pump line Q₀(1 − p/p_s) with the supply's loss solved in; groups move at (p·A − p_ret·A_annulus − F)/c until contact, then act as springs; (V/K(p) + Σ count·A²/k)·dp/dt = Q − Σ count·A·v, K by `effective-bulk-modulus`. Integrated by the stiff Rosenbrock method RODAS (order 4), error-controlled; contacts met exactly.",
    ],
    assumes:
      'No mass; laminar supply and return; one pressure at all cylinders; Coulomb and viscous friction; springs after contact.',
    range: "Within 0.1 % of each time. A real pump's curve hangs below the line: its times are longer.",
    sources: [
      'Balance of volumes and forces; method: Hairer & Wanner, Solving Ordinary Differential Equations II, 1996.',
    ],
    symbols: {
      lengthM: {
        symbol: 'L',
        meaning: 'length of the line',
      },
      innerDiameterM: {
        symbol: 'd',
        meaning: 'inner diameter',
      },
      count: {
        symbol: '',
        meaning: 'equal cylinders in the group',
      },
      boreM: {
        symbol: 'D',
        meaning: 'bore',
      },
      rodM: {
        symbol: 'd_r',
        meaning: 'rod diameter',
      },
      strokeM: {
        symbol: 's',
        meaning: 'stroke until contact',
      },
      frictionN: {
        symbol: 'F',
        meaning: 'dry friction',
      },
      viscousFrictionNsPerM: {
        symbol: 'c',
        meaning: 'viscous friction',
      },
      contactStiffnessNPerM: {
        symbol: 'k',
        meaning: 'stiffness of clamp and workpiece after contact',
      },
      freeFlowM3PerS: {
        symbol: 'Q_0',
        meaning: 'flow without back pressure',
      },
      stallPressurePa: {
        symbol: 'p_s',
        meaning: 'stall pressure',
      },
      pistonRatio: {
        symbol: 'i',
        meaning: 'piston ratio',
      },
      airPressurePa: {
        symbol: 'p_air',
        meaning: 'gauge air pressure',
      },
      supplyResistancePaSPerM3: {
        symbol: 'R',
        meaning: 'loss per flow from pump to manifold',
      },
      returnResistancePaSPerM3: {
        symbol: 'R_ret',
        meaning: 'loss per flow of the return',
      },
      lineVolumeM3: {
        symbol: 'V_l',
        meaning: 'volume between valve and cylinders',
      },
      bulkModulusPa: {
        symbol: 'K_0',
        meaning: 'bulk modulus of the oil',
      },
      airFraction: {
        symbol: 'a',
        meaning: 'air at atmosphere',
      },
      polytropic: {
        symbol: 'n',
        meaning: 'polytropic exponent',
      },
      kinematicViscosityM2PerS: {
        symbol: 'nu',
        meaning: 'kinematic viscosity, with a line',
      },
      densityKgPerM3: {
        symbol: 'rho',
        meaning: 'density, with a line',
      },
      hoseModulusPa: {
        symbol: 'K_h',
        meaning: 'modulus of the hose',
      },
      switchRisingPa: {
        symbol: 'p_sw',
        meaning: 'rising point of the switch',
      },
      switchAt: {
        symbol: '',
        meaning: 'where the switch senses',
      },
      startPressurePa: {
        symbol: 'p_1',
        meaning: 'pressure at the start',
      },
      maximumTimeS: {
        symbol: 't_max',
        meaning: 'how long to follow',
      },
      timeToFirstMotionS: {
        symbol: 't_1',
        meaning: 'first motion',
      },
      timeToContactS: {
        symbol: 't_c',
        meaning: 'contact of the last group',
      },
      timeToSwitchS: {
        symbol: 't_sw',
        meaning: 'the switch makes',
      },
      timeTo95S: {
        symbol: 't_95',
        meaning: '95 % of stall',
      },
      contactsS: {
        symbol: '',
        meaning: 'contact of each group; null: not reached',
      },
      oilVolumeM3: {
        symbol: 'V',
        meaning: 'oil pumped until contact and 95 % of stall',
      },
      airUsedM3: {
        symbol: 'V_air',
        meaning: 'free air used until then',
      },
      evaluations: {
        symbol: '',
        meaning: 'right-hand sides evaluated, for benchmarks',
      },
    },
  },
  'pressurise-time': {
    summary: 'Time in which a pump with a straight curve fills the strokes and brings a stiff volume to a pressure.',
    formula: ['t = (V * p_s / (K * Q_0)) * log((p_s - p_0) / (p_s - p))', 't_f = V_s / Q_0', 't_t = t_f + t'],
    method: [],
    assumes:
      'Straight pump curve; no line resistance; with air the modulus of `effective-bulk-modulus` inside the integral V·∫dp/(K(p)·Q(p)), by adaptive quadrature.',
    range: 'Near stall the time runs away: a note above 0.9 of the stall pressure.',
    sources: ['Volume balance, integrated; checked against an initial-value solution.'],
    symbols: {
      volumeM3: {
        symbol: 'V',
        meaning: 'volume to be brought to pressure',
      },
      bulkModulusPa: {
        symbol: 'K',
        meaning: 'bulk modulus of the oil',
      },
      freeFlowM3PerS: {
        symbol: 'Q_0',
        meaning: 'flow of the pump without back pressure',
      },
      stallPressurePa: {
        symbol: 'p_s',
        meaning: 'stall pressure',
      },
      targetPressurePa: {
        symbol: 'p',
        meaning: 'pressure to be reached',
      },
      startPressurePa: {
        symbol: 'p_0',
        meaning: 'pressure at the start',
      },
      airFraction: {
        symbol: 'a',
        meaning: 'air volume over total volume at atmosphere',
      },
      polytropic: {
        symbol: 'n',
        meaning: 'polytropic exponent of the air',
      },
      strokeVolumeM3: {
        symbol: 'V_s',
        meaning: 'oil that the strokes take before the pressure rises',
      },
      timeS: {
        symbol: 't',
        meaning: 'time from the start to the target pressure',
      },
      fillTimeS: {
        symbol: 't_f',
        meaning: 'time to fill the strokes at free flow',
      },
      totalTimeS: {
        symbol: 't_t',
        meaning: 'both together',
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
    range: 'Bourdon tubes; capsules and diaphragms err more. Grades other than A from memory of ASME B40.100.',
    sources: [
      "EN 837-1:1996 Table 11 (text seen); ASME B40.100 grade A (seen), others from memory; 0.04 % per K of Bourdon tubes (EN 837-1 as quoted in a maker's manual, seen).",
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
  'clamp-slip-force': {
    summary: 'Clamping force against sliding along the clamped faces.',
    formula: ['F_c = S * F / (mu * n)'],
    method: [],
    assumes: 'Force along the faces only; Coulomb friction, the same on all faces.',
    range:
      'Safety factor 2 to 2.5 for milling, 1.5 to 2 for steady drilling (common practice, no source). Coolant-wet steel 0.10 to 0.15; above 0.2 a note: not without a test. Lifting and tipping need `holding-force`.',
    sources: ['Coulomb friction; cautions after Blau 2001 (Tribology International 34:585, abstract).'],
    symbols: {
      cuttingForceN: {
        symbol: 'F',
        meaning: 'cutting force along the clamped faces',
      },
      safetyFactor: {
        symbol: 'S',
        meaning: 'safety factor',
      },
      friction: {
        symbol: 'mu',
        meaning: 'friction',
      },
      frictionFaces: {
        symbol: 'n',
        meaning: 'faces that resist sliding, clamp side and locator side',
      },
      clampForceN: {
        symbol: 'F_c',
        meaning: 'force of all clamps together',
      },
    },
  },
  'holding-force': {
    summary: 'Least factor on the clamp forces that holds a part against every load case, by linear programming.',
    formula: [],
    method: [
      "Per load case: Σ locators + Σ clamps + S·(force, moment) + weight = 0, six equations; locators push inside a friction cone of m edges up to their limits, a support's in proportion to the scale; clamps give scale·force, less what a spring takes off, and a friction force inside the polygon μ times that. Least scale of each case; the common one is the largest of them, checked against every case. Best change: the duals of every case rank the changes tried; the three best are solved again.",
    ],
    assumes:
      'Rigid part and fixture, Coulomb friction, contact forces arrange themselves in the best way: necessary, not sufficient.',
    range:
      'Keep a safety factor of 2 at least. Friction above 0.3 a note: not without a test. Four edges ask for about 17 % more than the round cone, eight for 3 %, sixteen for 0.3 %, always on the safe side.',
    sources: [
      'Balance of forces and moments; force closure with polyhedral cones (Nguyen 1988); closed form of the example: F/μ = 1500/0.2 N.',
    ],
    symbols: {
      pointM: {
        symbol: 'r',
        meaning: 'point of contact',
      },
      normal: {
        symbol: '',
        meaning: 'n: direction into the part, any length but zero',
      },
      friction: {
        symbol: 'mu',
        meaning: 'friction',
      },
      limitN: {
        symbol: 'N_max',
        meaning: 'largest normal force',
      },
      limitAtScaleOneN: {
        symbol: 'N_1',
        meaning:
          'largest normal force at factor one, in proportion to the factor: a support that the same pressure locks',
      },
      direction: {
        symbol: '',
        meaning: 'd: direction into the part, any length but zero',
      },
      forceN: {
        symbol: 'F',
        meaning: 'force at scale one',
      },
      backN: {
        symbol: 'F_b',
        meaning: 'what a spring takes off its force at every scale',
      },
      fixed: {
        symbol: '',
        meaning: 'its force does not follow the scale: a spring, a screw',
      },
      momentNm: {
        symbol: 'M',
        meaning: 'moment on the part',
      },
      gravity: {
        symbol: '',
        meaning: 'direction of the weight meanwhile, any length but zero; left out: that of the input',
      },
      solver: {
        symbol: '',
        meaning: 'solves the linear programs; loaded by the caller',
      },
      partMassKg: {
        symbol: 'm',
        meaning: 'mass of the part',
      },
      centreOfMassM: {
        symbol: 'r_c',
        meaning: 'centre of mass, needed with a mass',
      },
      loads: {
        symbol: '',
        meaning: 'each one load case',
      },
      safetyFactor: {
        symbol: 'S',
        meaning: 'factor on the loads, not on the weight',
      },
      coneFacets: {
        symbol: '',
        meaning: 'edges of the friction cones, from 4 [1]',
      },
      forceStep: {
        symbol: 'q',
        meaning: "share by which a clamp's force is raised to see what that gains",
      },
      frictionStep: {
        symbol: 'j',
        meaning: 'what is added to the friction of a contact to see what that gains',
      },
      shiftM: {
        symbol: 'w',
        meaning: 'how far a contact may be moved along its face to see what that gains',
      },
      leastScale: {
        symbol: 's_0',
        meaning: 'least factor that counts, such as that of the pressure at which supports lock',
      },
      onProgress: {
        symbol: '',
        meaning: 'told now and then which share of the work is done',
      },
      normalN: {
        symbol: 'N',
        meaning: 'normal force',
      },
      frictionN: {
        symbol: 'T',
        meaning: 'friction force',
      },
      atLimit: {
        symbol: '',
        meaning: 'what stands at its limit',
      },
      newForceN: {
        symbol: 'F',
        meaning: 'the new force',
      },
      newFriction: {
        symbol: 'mu',
        meaning: 'the new friction',
      },
      newPointM: {
        symbol: 'r',
        meaning: 'the new point',
      },
      newScale: {
        symbol: '',
        meaning: 'least common factor with the change, solved again for every case [1]',
      },
      gain: {
        symbol: '',
        meaning: 'what it takes off the factor [1]',
      },
      scale: {
        symbol: 's',
        meaning: 'least common factor on the forces of the clamps that are not fixed',
      },
      governingCase: {
        symbol: '',
        meaning: 'index of the case that needs the most alone, from 0',
      },
      caseScales: {
        symbol: '',
        meaning: 'least factor of each case alone; null: none',
      },
      contacts: {
        symbol: '',
        meaning: 'one possible set of contact forces of the governing case; null without a scale',
      },
      bestChange: {
        symbol: '',
        meaning:
          'the single change of those tried that lowers the factor the most; null: none does, or there is no factor',
      },
    },
  },
  'interlock-proof': {
    summary:
      'Whether the clamping interlock of a machine is sound: every rule in every state, or the shortest story that breaks it.',
    formula: [],
    method: [
      'Each station with the spindle and the supply that it shares is a finite-state model; all states that the events can reach are explored breadth first, for each fault by itself. Stations are explored one by one after showing that they share no output, input or code.',
    ],
    assumes: "One fault at a time; events one after the other; the control's reactions as given.",
    range: 'A proof about this model of the wiring and the reactions, not a safety function and no performance level.',
    sources: [
      'Breadth-first search of a finite-state model; rules from common practice of workholding retrofits (no source).',
    ],
    symbols: {
      faults: {
        symbol: '',
        meaning: 'faults to try, each by itself; `none` is the sound machine',
      },
      signal: {
        symbol: '',
        meaning: 'the code or signal concerned, where one is',
      },
      needsSecondChannel: {
        symbol: '',
        meaning: 'it breaks with the best reactions of the control too: nothing short of a second channel covers it',
      },
      states: {
        symbol: '',
        meaning: 'states reached, all faults together',
      },
      holds: {
        symbol: '',
        meaning: 'rules that hold in every state under every fault tried',
      },
      sound: {
        symbol: '',
        meaning: 'without a fault every rule holds, and no station shares a signal',
      },
      shared: {
        symbol: '',
        meaning: 'signals and codes that two stations use: their proofs then say nothing about each other',
      },
      broken: {
        symbol: '',
        meaning: 'the last step of a shortest story of each rule that breaks',
      },
    },
  },
  'friction-factor': {
    summary: 'Darcy friction factor of a round line by Reynolds number and relative roughness.',
    formula: [],
    method: [
      "line: 64/Re below 2300, Colebrook–White above 4000, between linear in Re between the two ends' values; colebrook: 1/√f = −2·log10(ε/3.7 + 2.51/(Re·√f)) solved to the last digits; swamee-jain: 0.25/log10(ε/3.7 + 5.74/Re^0.9)²; blasius: 0.3164/Re^0.25.",
    ],
    assumes: 'Round, straight, full line; developed flow.',
    range:
      'Between 2300 and 4000 the flow is either: the value there is an interpolation. Swamee–Jain 5e3…1e8, Blasius (smooth) 4e3…1e5, roughness up to 0.05: a note outside.',
    sources: [
      'Colebrook 1939 (J. Inst. Civil Eng. 11:133); Swamee & Jain 1976; Blasius 1913; values from the tests of the open library fluids (CalebBell).',
    ],
    symbols: {
      reynolds: {
        symbol: 'Re',
        meaning: 'Reynolds number',
      },
      relativeRoughness: {
        symbol: 'eps',
        meaning: 'roughness over inner diameter',
      },
      frictionFactor: {
        symbol: 'f',
        meaning: 'Darcy friction factor',
      },
    },
  },
  'hydrostatic-pressure': {
    summary: 'Pressure of a column of liquid.',
    formula: ['p = rho * 9.80665 * h'],
    method: [],
    assumes: 'Standard gravity, constant density.',
    range: 'About 0.085 bar a metre of oil: it matters for suction and for return lines that rise.',
    sources: ['Hydrostatics.'],
    symbols: {
      heightM: {
        symbol: 'h',
        meaning: 'height of the column',
      },
      densityKgPerM3: {
        symbol: 'rho',
        meaning: 'density',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'pressure of the column',
      },
    },
  },
  'line-loss': {
    summary: 'Loss of pressure in a line with its fittings.',
    formula: ['v = Q / (pi * d^2 / 4)', 'Re = v * d / nu', 'dp = (f * L / d + K) * rho * v^2 / 2'],
    method: [],
    assumes: 'Steady, developed flow; f by `friction-factor`, method line.',
    range:
      'Loss coefficients hold for turbulent flow; at Re below 1000 fittings lose several times more (from memory): a note says so.',
    sources: ['Darcy–Weisbach; Hagen–Poiseuille for the laminar case.'],
    symbols: {
      lengthM: {
        symbol: 'L',
        meaning: 'length of the line',
      },
      innerDiameterM: {
        symbol: 'd',
        meaning: 'inner diameter',
      },
      flowM3PerS: {
        symbol: 'Q',
        meaning: 'flow',
      },
      kinematicViscosityM2PerS: {
        symbol: 'nu',
        meaning: 'kinematic viscosity',
      },
      densityKgPerM3: {
        symbol: 'rho',
        meaning: 'density',
      },
      roughnessM: {
        symbol: 'k',
        meaning: 'roughness of the wall',
      },
      minorLossSum: {
        symbol: 'K',
        meaning: 'sum of the loss coefficients of fittings',
      },
      velocityMPerS: {
        symbol: 'v',
        meaning: 'mean velocity',
      },
      reynolds: {
        symbol: 'Re',
        meaning: 'Reynolds number',
      },
      frictionFactor: {
        symbol: 'f',
        meaning: 'Darcy friction factor',
      },
      pressureLossPa: {
        symbol: 'dp',
        meaning: 'loss of pressure',
      },
    },
  },
  'valve-loss': {
    summary: 'Loss of pressure of a valve from its flow coefficient.',
    formula: ['dp = 1e5 * (Q / K_v)^2 * rho / 1000', 'C_v = 1.15610 * K_v * 3600'],
    method: [],
    assumes: 'Turbulent flow through the valve; reference units bar, 1000 kg/m³ and m³/h.',
    range: 'Thick oil at low flow loses more than this.',
    sources: ['Definition of Kv; 1.1561 from published conversion.'],
    symbols: {
      kvM3PerS: {
        symbol: 'K_v',
        meaning: 'flow of water of 1000 kg/m³ that loses 1 bar',
      },
      flowM3PerS: {
        symbol: 'Q',
        meaning: 'flow',
      },
      densityKgPerM3: {
        symbol: 'rho',
        meaning: 'density',
      },
      pressureLossPa: {
        symbol: 'dp',
        meaning: 'loss of pressure',
      },
      cv: {
        symbol: 'C_v',
        meaning: 'US gallons of water a minute that lose 1 psi',
      },
    },
  },
  'oil-density': {
    summary: 'Density of an oil at a temperature.',
    formula: ['rho = rho_15 / (1 + alpha * (T - 288.15))'],
    method: [],
    assumes: 'Constant expansion; pressure left out.',
    range: 'Mineral hydraulic oil: 850 to 880 kg/m³ at 15 °C, alpha about 7e-4 1/K (from memory).',
    sources: ['Definition of the volumetric expansion coefficient.'],
    symbols: {
      densityAt15KgPerM3: {
        symbol: 'rho_15',
        meaning: 'density at 15 °C',
      },
      expansionCoefficientPerK: {
        symbol: 'alpha',
        meaning: 'volumetric expansion',
      },
      temperatureK: {
        symbol: 'T',
        meaning: 'temperature of the oil',
      },
      densityKgPerM3: {
        symbol: 'rho',
        meaning: 'density at the temperature',
      },
    },
  },
  'oil-viscosity': {
    summary:
      'Kinematic viscosity of an oil at a temperature, from two known viscosities or from its grade and viscosity index.',
    formula: [
      'T_40 = 313.15',
      'T_100 = 373.15',
      'B = (log10(log10(nu_40 * 1e6 + 0.7)) - log10(log10(nu_100 * 1e6 + 0.7))) / (log10(T_100) - log10(T_40))',
      'nu = (10^(10^(log10(log10(nu_40 * 1e6 + 0.7)) - B * (log10(T) - log10(T_40)))  ) - 0.7) * 1e-6',
    ],
    method: [],
    assumes:
      'Reference units: mm²/s and K. Grade alone: nu_40 = grade, nu_100 where `viscosity-index` reaches the index.',
    range: 'Good above 2 mm²/s; below a note says so. Cold oil near its pour point is thicker than this.',
    sources: [
      'ASTM D341-09 (log-log law without the correction for low viscosities); published fit: 32 and 5.4 mm²/s give 8.5 at 80 °C.',
    ],
    symbols: {
      grade: {
        symbol: 'VG',
        meaning: 'ISO viscosity grade, mm²/s at 40 °C',
      },
      viscosityIndex: {
        symbol: 'VI',
        meaning: 'viscosity index, with a grade',
      },
      kinematicAt40M2PerS: {
        symbol: 'nu_40',
        meaning: 'kinematic viscosity at 40 °C',
      },
      kinematicAt100M2PerS: {
        symbol: 'nu_100',
        meaning: 'kinematic viscosity at 100 °C',
      },
      temperatureK: {
        symbol: 'T',
        meaning: 'temperature of the oil',
      },
      kinematicViscosityM2PerS: {
        symbol: 'nu',
        meaning: 'kinematic viscosity at the temperature',
      },
    },
  },
  'viscosity-index': {
    summary: 'Viscosity index of an oil from its kinematic viscosity at 40 and 100 °C.',
    formula: [],
    method: [
      'L and H by the quadratics of ASTM D2270 in Y (in mm²/s); U ≥ H: 100·(L − U)/(L − H); U < H: 100 + (10^N − 1)/0.00715 with N = log10(H/U)/log10(Y).',
    ],
    assumes: 'Reference units: mm²/s.',
    range:
      "Y from 2 mm²/s. At a border between two pieces the index jumps by up to 0.5; against the standard's own table the two worked examples differ by 0.004 and 0.09.",
    sources: ['ASTM D2270-10: quadratic form of L and H; worked examples 92 and 156.'],
    symbols: {
      kinematicAt40M2PerS: {
        symbol: 'U',
        meaning: 'kinematic viscosity at 40 °C',
      },
      kinematicAt100M2PerS: {
        symbol: 'Y',
        meaning: 'kinematic viscosity at 100 °C',
      },
      viscosityIndex: {
        symbol: 'VI',
        meaning: 'viscosity index, not rounded',
      },
    },
  },
  'air-consumption': {
    summary: 'Free air that an air-driven pump uses for a volume of oil.',
    formula: ['V_a = i * V * (p_air + 101325) / 101325'],
    method: [],
    assumes: 'Both strokes driven by air; dead volume ignored; same temperature.',
    range: 'A stalled pump uses no air but leakage. Reference conditions here: 101 325 Pa, not those of ISO 8778.',
    sources: ['Ideal gas at constant temperature; areas of the stepped piston.'],
    symbols: {
      pistonRatio: {
        symbol: 'i',
        meaning: 'piston ratio, oil pressure over air pressure',
      },
      airPressurePa: {
        symbol: 'p_air',
        meaning: 'gauge air pressure at the pump',
      },
      oilVolumeM3: {
        symbol: 'V',
        meaning: 'oil delivered',
      },
      freeAirM3: {
        symbol: 'V_a',
        meaning: 'air at the standard atmosphere and the same temperature',
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
  'pad-pressure': {
    summary: 'Pressure of a round pad on a flat face of the workpiece, by Hertz.',
    formula: [],
    method: [
      '1/E_c = (1 − ν₁²)/E₁ + (1 − ν₂²)/E₂. Sphere: p₀ = (6·F·E_c²/(π³·R²))^(1/3), a = (3·F·R/(4·E_c))^(1/3), mean 2/3·p₀. Cylinder: p₀ = √(F·E_c/(π·R·L)), a = √(4·F·R/(π·L·E_c)), mean π/4·p₀. Force at the limit: the same for p₀ = limit.',
    ],
    assumes: 'Elastic, smooth, without friction; contact small beside the radius and the thickness of the face.',
    range:
      "A cylinder's ends press harder than its middle unless they are rounded. Metal yields under its face from a peak of about 1.6 times its yield strength on: a mark may be seen earlier.",
    sources: [
      'Johnson, Contact Mechanics, 1985, ch. 4 (from memory); the same in the Hertz formulas that universities publish (seen).',
    ],
    symbols: {
      radiusM: {
        symbol: 'R',
        meaning: 'radius of the pad where it touches',
      },
      lengthM: {
        symbol: 'L',
        meaning: "length of a cylinder's line of contact",
      },
      forceN: {
        symbol: 'F',
        meaning: 'force on the pad',
      },
      padModulusPa: {
        symbol: 'E_1',
        meaning: 'elastic modulus of the pad',
      },
      padPoisson: {
        symbol: 'nu_1',
        meaning: "Poisson's ratio of the pad",
      },
      workpieceModulusPa: {
        symbol: 'E_2',
        meaning: 'elastic modulus of the workpiece',
      },
      workpiecePoisson: {
        symbol: 'nu_2',
        meaning: "Poisson's ratio of the workpiece",
      },
      limitPa: {
        symbol: 'p_lim',
        meaning: 'highest pressure that the face may see',
      },
      contactModulusPa: {
        symbol: 'E_c',
        meaning: 'modulus of the contact',
      },
      peakPressurePa: {
        symbol: 'p_0',
        meaning: 'pressure in the middle of the contact, its highest',
      },
      meanPressurePa: {
        symbol: 'p_m',
        meaning: 'mean pressure over the contact',
      },
      halfWidthM: {
        symbol: 'a',
        meaning: 'radius of the contact, or half the width of a line',
      },
      forceAtLimitN: {
        symbol: 'F_lim',
        meaning: 'force at which the peak reaches the limit',
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
      typedPa: {
        symbol: 'p_r',
        meaning: 'its rated pressure, before the derating',
      },
    },
  },
  'thick-cylinder-stress': {
    summary: 'Stresses of a thick-walled cylinder under internal and external pressure.',
    formula: [
      's_i = (p * (d^2 + D^2) - 2 * p_e * D^2) / (D^2 - d^2)',
      's_o = (2 * p * d^2 - p_e * (D^2 + d^2)) / (D^2 - d^2)',
      's_a = (p * d^2 - p_e * D^2) / (D^2 - d^2)',
    ],
    method: [],
    assumes: 'Elastic, long, round; tension positive; away from the ends.',
    range: 'Static pressures; fatigue needs more.',
    sources: ['Lamé 1852; checked against a boundary-value solution.'],
    symbols: {
      innerDiameterM: {
        symbol: 'd',
        meaning: 'inner diameter',
      },
      outerDiameterM: {
        symbol: 'D',
        meaning: 'outside diameter',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge pressure inside',
      },
      externalPressurePa: {
        symbol: 'p_e',
        meaning: 'gauge pressure outside',
      },
      hoopInnerPa: {
        symbol: 's_i',
        meaning: 'hoop stress at the bore',
      },
      hoopOuterPa: {
        symbol: 's_o',
        meaning: 'hoop stress at the outside',
      },
      axialPa: {
        symbol: 's_a',
        meaning: 'axial stress with closed ends',
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
  'tube-wall': {
    summary: 'Least wall of a straight tube for a pressure.',
    formula: ['t = p * D / (2 * (S * E * W + p * Y))'],
    method: [],
    assumes: 'Straight tube under internal pressure; add corrosion, thread depth and thinning at bends.',
    range: 'Below D/6; from there on a note: the formula does not apply. Y 0.4 for ferrous metal below 482 °C.',
    sources: ['ASME B31.3, 304.1.2 (from memory).'],
    symbols: {
      pressurePa: {
        symbol: 'p',
        meaning: 'design pressure',
      },
      outerDiameterM: {
        symbol: 'D',
        meaning: 'outside diameter',
      },
      allowableStressPa: {
        symbol: 'S',
        meaning: 'allowable stress',
      },
      quality: {
        symbol: 'E',
        meaning: 'quality factor',
      },
      weldFactor: {
        symbol: 'W',
        meaning: 'weld strength factor',
      },
      coefficient: {
        symbol: 'Y',
        meaning: 'coefficient of the formula',
      },
      minimumWallM: {
        symbol: 't',
        meaning: 'least wall for the pressure, without allowances',
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
  'combined-bulk-modulus': {
    summary: 'Bulk modulus of oil, free gas, tubes and hoses together.',
    formula: [],
    method: ['1/K = 1/K_oil + fraction/K_gas + Σ share/K_container + Σ swell/(pressure·volume).'],
    assumes: 'Gas fraction AT the working pressure (not that at atmosphere); small changes of volume add up.',
    range: 'Published example: 250 000 psi oil with 1 % of air at 500 psi and a tube of D/t = 10 gives 41 096 psi.',
    sources: ['Sum of compliances; inputs of the example after the textbook chapter doi 10.1201/9781482269895-28.'],
    symbols: {
      oilModulusPa: {
        symbol: 'K_0',
        meaning: 'bulk modulus of the oil',
      },
      volumeM3: {
        symbol: 'V',
        meaning: 'volume of the oil, needed with hoses',
      },
      gas: {
        symbol: '',
        meaning:
          'free gas at the working pressure: its share of the volume, and its modulus (the absolute pressure, or 1.4 of it)',
      },
      containers: {
        symbol: '',
        meaning: 'tubes and cylinders: modulus, and share of the volume that lies in them',
      },
      hoses: {
        symbol: '',
        meaning: 'hoses: growth of volume at a pressure, as the maker states it',
      },
      bulkModulusPa: {
        symbol: 'K',
        meaning: 'bulk modulus of all together',
      },
    },
  },
  'compression-volume': {
    summary: 'Oil that must be added to a full volume to bring it to a pressure.',
    formula: ['dV = V * p / K'],
    method: [],
    assumes: 'Constant modulus.',
    range: 'Pressures well below the modulus.',
    sources: ['Definition of the bulk modulus.'],
    symbols: {
      volumeM3: {
        symbol: 'V',
        meaning: 'volume under pressure',
      },
      bulkModulusPa: {
        symbol: 'K',
        meaning: 'bulk modulus of oil and walls',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge pressure reached',
      },
      oilVolumeM3: {
        symbol: 'dV',
        meaning: 'oil to be added',
      },
    },
  },
  'container-modulus': {
    summary: "Stiffness of a tube against swelling, as a modulus that adds to the oil's.",
    formula: [
      'd = D - 2 * t',
      'K_c = equalText(method, "thin") ? E * t / D : E / (2 * ((D^2 + d^2) / (D^2 - d^2) + nu))',
    ],
    method: [],
    assumes: 'Elastic, round; thick: open ends.',
    range: 'The thin formula is meant for t/D up to 0.1.',
    sources: ['Lamé: displacement of the bore; thin wall from memory, derived anew for the check values.'],
    symbols: {
      outerDiameterM: {
        symbol: 'D',
        meaning: 'outside diameter',
      },
      wallM: {
        symbol: 't',
        meaning: 'wall',
      },
      elasticModulusPa: {
        symbol: 'E',
        meaning: 'elastic modulus of the wall',
      },
      poisson: {
        symbol: 'nu',
        meaning: "Poisson's ratio of the wall",
      },
      containerModulusPa: {
        symbol: 'K_c',
        meaning: 'pressure per share of volume that the tube gains',
      },
    },
  },
  'effective-bulk-modulus': {
    summary: 'Bulk modulus of oil with entrained air at a pressure, and of the hose around it.',
    formula: [
      'P = p + 101325',
      'V_o = (1 - a) * exp(-p / K_0)',
      'V_a = a * (101325 / P)^(1 / n)',
      'K_m = (V_o + V_a) / (V_o / K_0 + V_a / (n * P))',
      '1 / K = 1 / K_m + 1 / K_h',
    ],
    method: [],
    assumes:
      'Air stays free (does not dissolve); the fraction is the one at atmosphere: at 50 bar the same number at pressure would mean fifty times the air.',
    range: 'Polytropic exponent 1 (slow) to 1.4 (fast).',
    sources: [
      'Mixture of a liquid of constant modulus and a polytropic gas (derived; agrees with the open text of Ruhr-Universität Bochum).',
    ],
    symbols: {
      oilModulusPa: {
        symbol: 'K_0',
        meaning: 'bulk modulus of the oil without air',
      },
      airFraction: {
        symbol: 'a',
        meaning: 'air volume over total volume at atmosphere',
      },
      pressurePa: {
        symbol: 'p',
        meaning: 'gauge pressure',
      },
      polytropic: {
        symbol: 'n',
        meaning: 'polytropic exponent of the air',
      },
      hoseModulusPa: {
        symbol: 'K_h',
        meaning: 'modulus of the hose',
      },
      bulkModulusPa: {
        symbol: 'K',
        meaning: 'bulk modulus of the mixture, with the hose',
      },
    },
  },
  'hold-time': {
    summary: 'How long a shut-in volume stays above a pressure, by the law of its leak.',
    formula: [
      'tau = V * p_1 / (K * q)',
      't = equalText(law, "laminar") ? tau * log(p_1 / p_2) : (equalText(law, "constant") ? tau * (1 - p_2 / p_1) : 2 * tau * (1 - sqrt(p_2 / p_1)))',
    ],
    method: [],
    assumes: 'Constant temperature and modulus.',
    range: 'A worn valve seat leaks laminar, a scratch more like an orifice: take the shorter time.',
    sources: ['Volume balance with the three laws of leakage, integrated.'],
    symbols: {
      volumeM3: {
        symbol: 'V',
        meaning: 'volume under pressure',
      },
      bulkModulusPa: {
        symbol: 'K',
        meaning: 'bulk modulus of oil and walls',
      },
      leakRateM3PerS: {
        symbol: 'q',
        meaning: 'leak at the starting pressure',
      },
      pressureStartPa: {
        symbol: 'p_1',
        meaning: 'pressure at the start',
      },
      pressureEndPa: {
        symbol: 'p_2',
        meaning: 'pressure that must be kept',
      },
      law: {
        symbol: '',
        meaning: 'how the leak falls with pressure: in proportion, not at all, with its square root',
      },
      timeS: {
        symbol: 't',
        meaning: 'time until the pressure is reached',
      },
    },
  },
  'leak-down': {
    summary: 'Leak of a shut-in volume from the fall of its pressure, and the time until a pressure is reached.',
    formula: ['q = V * (p_1 - p_2) / (K * t)', 'r = (p_1 - p_2) / t', 't_f = max(0, (p_2 - p_f) / r)'],
    method: [],
    assumes: 'Constant temperature and rate.',
    range: 'Log the temperature too: 1 K of cooling takes about 10 bar off a rigid volume and looks like a leak.',
    sources: ['Definition of the bulk modulus.'],
    symbols: {
      volumeM3: {
        symbol: 'V',
        meaning: 'volume under pressure',
      },
      bulkModulusPa: {
        symbol: 'K',
        meaning: 'bulk modulus of oil and walls',
      },
      pressureStartPa: {
        symbol: 'p_1',
        meaning: 'pressure at the start',
      },
      pressureEndPa: {
        symbol: 'p_2',
        meaning: 'pressure at the end',
      },
      durationS: {
        symbol: 't',
        meaning: 'duration of the test',
      },
      floorPressurePa: {
        symbol: 'p_f',
        meaning: 'pressure that must be kept',
      },
      leakRateM3PerS: {
        symbol: 'q',
        meaning: 'leak',
      },
      decayRatePaPerS: {
        symbol: 'r',
        meaning: 'fall of pressure',
      },
      timeToFloorS: {
        symbol: 't_f',
        meaning: 'time from the end of the test to the floor, at the same rate',
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
