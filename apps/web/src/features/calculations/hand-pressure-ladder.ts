import { MARGIN_CODES } from '@repo/calc/checks';
import type { FieldDescription, RatedComponent, PressureLadderInput } from '@repo/calc';
import { getKindInfo, toSi, type QuantityKind } from '@repo/quantity';
import type { Translate } from '@/lib/i18n/i18n';
import { readInputs, type Drafts, type Fields, type Unread } from './forms';

/** The pressure ladder of one circuit as a page of the calculations: no entry of the registry, since every figure may be unknown. */
export const HAND_PRESSURE_LADDER = 'pressure-ladder';

const quantityOf = (kind: QuantityKind, isRequired = false): FieldDescription => ({
  type: 'quantity',
  kind,
  units: getKindInfo(kind).displayUnits.map(({ unit }) => unit),
  required: isRequired,
});

/** What is typed; each group in the order of the ladder, from below. */
export const PRESSURE_LADDER_GROUPS = [
  {
    code: 'pressures',
    names: [
      'requiredPressure',
      'resetPoint',
      'setPoint',
      'pumpRestart',
      'setting',
      'highestPressure',
      'workpieceLimit',
    ],
  },
  { code: 'errors', names: ['settingTolerance', 'switchAccuracy', 'gaugeError', 'pumpRestartTolerance'] },
  { code: 'loss', names: ['pressureDrop', 'dropDuration', 'reactionTime'] },
  { code: 'ratings', names: ['parts'] },
] as const;

export const PRESSURE_LADDER_FIELDS: Fields = {
  requiredPressure: quantityOf('pressure', true),
  resetPoint: quantityOf('pressure', true),
  setPoint: quantityOf('pressure', true),
  pumpRestart: quantityOf('pressure'),
  setting: quantityOf('pressure', true),
  highestPressure: quantityOf('pressure'),
  workpieceLimit: quantityOf('pressure'),
  settingTolerance: quantityOf('pressure'),
  switchAccuracy: quantityOf('pressure'),
  gaugeError: quantityOf('pressure'),
  pumpRestartTolerance: quantityOf('pressure'),
  pressureDrop: quantityOf('pressure'),
  dropDuration: quantityOf('time'),
  reactionTime: quantityOf('time'),
  parts: {
    type: 'list',
    fields: { name: { type: 'text', required: false }, rating: quantityOf('pressure', true) },
    required: false,
  },
};

type Inputs = Readonly<Record<string, unknown>>;
const isQuantity = (value: unknown): value is { value: number; unit: string } =>
  typeof value === 'object' && value !== null && 'value' in value && 'unit' in value && typeof value.value === 'number';

/** In SI; null: nobody has said, and nothing is assumed in its place. */
function toSiOrNull(inputs: Inputs, name: string, kind: QuantityKind): number | null {
  const entered = inputs[name];
  return isQuantity(entered) ? toSi(entered.value, entered.unit, kind) : null;
}

const ofTyped = (id: string, name: string) => ({ entity: 'typed', id, name });

/** What is read as a part with its rating, at the place at which it was typed. */
function toComponents(parts: unknown, toName: (number: number) => string): RatedComponent[] {
  const list: readonly unknown[] = Array.isArray(parts) ? parts : [];
  return list.map((part, index) => {
    const fields = { ...(part as Inputs) };
    const name = typeof fields['name'] === 'string' && fields['name'] !== '' ? fields['name'] : toName(index + 1);
    return {
      ref: ofTyped(`part-${index}`, name),
      kind: 'component',
      ratedPressurePa: toSiOrNull(fields, 'rating', 'pressure'),
      deratingRatio: 1,
      lineFunctions: ['supply', 'clamp'],
      rodSideAreaRatio: null,
    };
  });
}

const NO_MARGINS = Object.fromEntries(MARGIN_CODES.map((check) => [check, 0])) as PressureLadderInput['marginsAsked'];

/**
 * The typed figures as the calculation takes them. It has one operation, a source whose highest pressure is typed, no relief valve, and
 * neither shut-in oil nor a line that can be blocked; no margin is asked for.
 */
function toPressureLadderInput(inputs: Inputs, t: Translate): PressureLadderInput {
  const pressure = (name: string): number | null => toSiOrNull(inputs, name, 'pressure');
  const [drop, duration] = [pressure('pressureDrop'), toSiOrNull(inputs, 'dropDuration', 'time')];
  const unknown = { temperatureRiseK: null, netExpansionPerK: null, bulkModulusPa: null };
  const air = {
    pistonRatio: null,
    stallEfficiencyRatio: null,
    airPressurePa: null,
    airPressureLowPa: null,
    airPressureHighPa: null,
  };
  return {
    operations: [
      {
        ref: ofTyped('operation', t('handPressureLadder.operation')),
        requiredPressurePa: pressure('requiredPressure'),
        requiredBasis: 'typed',
        workpieceLimitPa: pressure('workpieceLimit'),
        workpieceNotLimiting: false,
      },
    ],
    leastWorking: [],
    setPointPa: pressure('setPoint'),
    resetPointPa: pressure('resetPoint'),
    switchAccuracyPa: pressure('switchAccuracy'),
    settingPa: pressure('setting'),
    settingHalfWidthPa: pressure('settingTolerance'),
    gaugeErrorPa: pressure('gaugeError'),
    hasReducingValve: false,
    pump: {
      drive: 'electric',
      ...air,
      highestPressurePa: pressure('highestPressure'),
      restartPressurePa: pressure('pumpRestart'),
      restartHalfWidthPa: pressure('pumpRestartTolerance'),
    },
    relief: null,
    thermal: { canTrap: false, ...unknown },
    hold: {
      decayRatePaPerS: drop === null || duration === null || duration === 0 ? null : drop / duration,
      reactionTimeS: toSiOrNull(inputs, 'reactionTime', 'time'),
    },
    components: toComponents(inputs['parts'], (number) => t('handPressureLadder.part', { number })),
    unclampLineCanBlock: false,
    marginsAsked: NO_MARGINS,
  };
}

export interface ReadPressureLadder {
  /** the inputs as a link keeps them */
  inputs: Inputs;
  unread: Unread;
  /** null: nothing is typed, or something cannot be read */
  input: PressureLadderInput | null;
}

export function readPressureLadder(drafts: Drafts, t: Translate): ReadPressureLadder {
  const { inputs, unread } = readInputs(PRESSURE_LADDER_FIELDS, drafts);
  const canRun = Object.keys(unread).length === 0 && Object.keys(inputs).length > 0;
  return { inputs, unread, input: canRun ? toPressureLadderInput(inputs, t) : null };
}
