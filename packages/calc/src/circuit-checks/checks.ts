/**
 * The checks of a circuit: what is known of each beside its rule (`prove-circuit.ts`), its words and its tests. Whoever lists checks,
 * asks for margins or shows them takes them from here. Plain data, so that a form can read it without loading a calculation.
 */
interface Check {
  /** 1 to 13, the order in which checks are told */
  number: number;
  /** margin that a new organisation asks for, as a share of the capacity, until it sets its own (common practice, no source);
   *  null: no margin can be asked for, since a rule holds or not, and ratings of wires and devices carry their own */
  usualMargin: number | null;
  /** it came later than organisations that are there: whoever says nothing of its margin asks for none */
  isMarginOptional?: true;
  /** why it fails or does not apply, beside what any check can say */
  reasons: readonly string[];
  /** the gauge's error can decide it */
  isGauged?: true;
  /** it has a probability, which can decide it */
  isProbable?: true;
  /** rungs of the pressure ladder that it speaks of */
  rungs: readonly ('required' | 'reset-point' | 'set-point' | 'setting' | 'highest-possible' | 'workpiece-limit')[];
  /** it lists its parts: clamps, wires, coils */
  hasParts?: true;
}

export const CHECKS = {
  'holds-workpiece': {
    number: 1,
    usualMargin: 0.1,
    reasons: ['below-required', 'burst-hose', 'switch-senses-supply', 'no-pressure-holds'],
    isGauged: true,
    isProbable: true,
    rungs: ['reset-point'],
    hasParts: true,
  },
  'no-nuisance-stop': {
    number: 2,
    usualMargin: 0.05,
    reasons: ['set-point-above-setting', 'set-point-above-stall'],
    isGauged: true,
    isProbable: true,
    rungs: ['set-point'],
  },
  'setting-within-rating': {
    number: 3,
    usualMargin: 0.05,
    reasons: ['above-rating', 'stall-above-setting'],
    isGauged: true,
    isProbable: true,
    rungs: ['setting'],
  },
  'highest-within-rating': {
    number: 4,
    usualMargin: 0.05,
    reasons: [
      'source-above-rating',
      'return-above-rating',
      'trapped-oil-above-rating',
      'intensified-above-rating',
      'relief-opens-below-setting',
    ],
    isGauged: true,
    isProbable: true,
    rungs: ['highest-possible'],
  },
  'clamping-time': {
    number: 5,
    usualMargin: 0.1,
    isMarginOptional: true,
    reasons: [
      'clamps-too-slowly',
      'switch-before-contact',
      'switch-while-moving',
      'switch-without-movement',
      'switch-senses-supply',
    ],
    rungs: [],
    hasParts: true,
  },
  unclamping: {
    number: 6,
    usualMargin: 0.1,
    isMarginOptional: true,
    reasons: [
      'unclamps-too-slowly',
      'open-not-proved',
      'spring-too-weak',
      'check-valve-stays-shut',
      'pilot-too-weak',
      'pilot-below-areas',
    ],
    rungs: [],
    hasParts: true,
  },
  'control-wiring': {
    number: 7,
    usualMargin: null,
    reasons: [
      'supply-too-small',
      'inrush-too-large',
      'voltage-at-coil',
      'duty-not-continuous',
      'no-suppression',
      'output-overvoltage',
      'polarity',
      'commons-not-separate',
      'protection-too-large',
      'insulation-too-low',
    ],
    rungs: [],
    hasParts: true,
  },
  'interlock-sound': {
    number: 8,
    usualMargin: null,
    reasons: ['signals-shared', 'rule-broken', 'fault-not-covered', 'switch-senses-supply'],
    rungs: [],
  },
  'workpiece-limit': {
    number: 9,
    usualMargin: 0.05,
    reasons: [
      'above-workpiece-limit',
      'pad-presses-too-hard',
      'locator-overloaded',
      'no-window',
      'no-pressure-holds',
      'not-limiting',
    ],
    isGauged: true,
    isProbable: true,
    rungs: ['setting', 'workpiece-limit'],
  },
  'shared-supply': {
    number: 10,
    usualMargin: 0.05,
    isMarginOptional: true,
    reasons: ['other-station-pulls-down', 'restart-below-reset'],
    isGauged: true,
    isProbable: true,
    rungs: ['reset-point'],
    hasParts: true,
  },
  'holds-without-supply': {
    number: 11,
    usualMargin: 0.05,
    isMarginOptional: true,
    reasons: [
      'falls-below-required',
      'warms-below-required',
      'relief-holds-clamp-line',
      'relief-lets-oil-out',
      'no-pressure-holds',
      'not-proved-again',
      'switch-senses-supply',
      'always-supplied',
    ],
    isGauged: true,
    isProbable: true,
    rungs: ['required'],
  },
  'order-and-speed': {
    number: 12,
    usualMargin: 0.1,
    isMarginOptional: true,
    reasons: [
      'support-locks-late',
      'support-overloaded',
      'flow-too-high',
      'flow-too-high-unclamping',
      'pressure-above-arm-chart',
      'nothing-to-order',
    ],
    isGauged: true,
    rungs: [],
    hasParts: true,
  },
  reservoir: {
    number: 13,
    usualMargin: 0.1,
    isMarginOptional: true,
    reasons: ['reservoir-too-small', 'reservoir-overflows'],
    rungs: [],
    hasParts: true,
  },
} as const satisfies Readonly<Record<string, Check>>;

export type CheckCode = keyof typeof CHECKS;
/** Checks of which a margin can be asked. */
export type MarginCode = {
  [Code in CheckCode]: (typeof CHECKS)[Code]['usualMargin'] extends null ? never : Code;
}[CheckCode];
/** Why some check stands as it does. */
export type CheckReason<Code extends CheckCode = CheckCode> =
  | 'within'
  | 'inside-margin'
  | 'gauge-error-decides'
  | 'probability-too-low'
  | 'missing'
  | (typeof CHECKS)[Code]['reasons'][number];

/** A check, or a circuit, of which nothing is wrong and nothing open: it holds, or does not apply. */
export const isRight = ({ status }: { readonly status: string }): boolean =>
  status === 'holds' || status === 'not-applicable';

/** In the order of their numbers. */
export const CHECK_CODES = (Object.keys(CHECKS) as CheckCode[]).sort((a, b) => CHECKS[a].number - CHECKS[b].number);
export const hasMargin = (code: CheckCode): code is MarginCode => CHECKS[code].usualMargin !== null;
export const MARGIN_CODES: readonly MarginCode[] = CHECK_CODES.filter(hasMargin);

/** Every reason that a check can give, of its margin too. */
export function listReasons(code: CheckCode): readonly CheckReason[] {
  const check: Check & { reasons: readonly CheckReason[] } = CHECKS[code];
  return [
    ...check.reasons,
    ...(check.usualMargin === null ? [] : (['inside-margin'] as const)),
    ...(check.isProbable === true ? (['probability-too-low'] as const) : []),
    ...(check.isGauged === true ? (['gauge-error-decides'] as const) : []),
  ];
}

/** What a new organisation asks for. */
export const USUAL_MARGINS = Object.fromEntries(MARGIN_CODES.map((code) => [code, CHECKS[code].usualMargin])) as Record<
  MarginCode,
  number
>;
