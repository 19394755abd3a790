import {
  CIRCUIT_FIGURES,
  ELEMENT_FIGURES,
  factNameOf,
  FIXTURE_FIGURES,
  fromFigures,
  MACHINE_FIGURES,
  POWER_UNIT_FIGURES,
  type Figure,
  type Figures,
} from '@repo/calc/figures';
import { COMPONENT_KINDS, controlBehaviourSchema } from '@repo/contracts';
import { z } from 'zod';

/**
 * What computing a sizing record again relies on in its input: lists are lists, what is looked into is there, numbers are numbers. A
 * figure that was asked for later is left out by records from before it; what no longer is read stays where it is.
 */
const numberOrNull = z.number().nullable();
const answer = z.boolean().nullable();
const shares = z.record(z.string(), z.number());

// --- formats 1 to 3: the inputs of the checks as they were ----------------------------------------------------------------

const ref = z.looseObject({ entity: z.string(), id: z.string(), name: z.string() });
const lineFunction = z.enum(['supply', 'clamp', 'unclamp', 'tank']);
const numbers = <Name extends string>(...names: Name[]) =>
  z.looseObject(Object.fromEntries(names.map((name) => [name, numberOrNull])));

export const pressureLadderInputSchema = z.looseObject({
  operations: z.array(
    z.looseObject({
      ref,
      requiredPressurePa: numberOrNull,
      requiredBasis: z.enum(['typed', 'computed']),
      workpieceLimitPa: numberOrNull,
      workpieceNotLimiting: z.boolean(),
    }),
  ),
  leastWorking: z.array(z.looseObject({ ref, leastWorkingPressurePa: numberOrNull })),
  setPointPa: numberOrNull,
  resetPointPa: numberOrNull,
  switchAccuracyPa: numberOrNull,
  settingPa: numberOrNull,
  settingHalfWidthPa: numberOrNull,
  gaugeErrorPa: numberOrNull,
  hasReducingValve: z.boolean(),
  pump: numbers(
    'pistonRatio',
    'stallEfficiencyRatio',
    'airPressurePa',
    'airPressureLowPa',
    'airPressureHighPa',
    'highestPressurePa',
    'restartPressurePa',
    'restartHalfWidthPa',
  ).extend({ drive: z.enum(['air', 'electric']) }),
  relief: numbers('openingPressurePa', 'fullFlowPressurePa').extend({ ref }).nullable(),
  thermal: numbers('temperatureRiseK', 'netExpansionPerK', 'bulkModulusPa').extend({ canTrap: z.boolean() }),
  hold: numbers('decayRatePaPerS', 'reactionTimeS'),
  components: z.array(
    z.looseObject({
      ref,
      kind: z.string(),
      ratedPressurePa: numberOrNull,
      deratingRatio: z.number(),
      lineFunctions: z.array(lineFunction),
      rodSideAreaRatio: numberOrNull,
    }),
  ),
  unclampLineCanBlock: z.boolean(),
  marginsAsked: shares,
});

export const supplyInputSchema = z.looseObject({
  pressureLadder: pressureLadderInputSchema,
  sharedSupply: z.looseObject({ others: z.array(z.looseObject({ ref, lowestPressurePa: numberOrNull })) }),
  withoutSupply: numbers('timeWithoutS', 'coolingK').extend({ isDecoupled: answer, isProvedAgain: answer }),
  marginsAsked: shares,
});

export const proofInputSchema = supplyInputSchema.extend({
  further: z.looseObject({
    actuation: z.looseObject({}),
    measured: z.looseObject({}).nullable(),
    clampTimeAllowedS: numberOrNull,
    unclampTimeAllowedS: numberOrNull,
    needsOpenProof: answer,
    hasOpenProof: answer,
    controlWiring: z.looseObject({}),
    interlock: z.looseObject({ proof: z.looseObject({}).nullable(), missing: z.array(z.looseObject({})) }),
    order: z.looseObject({ supports: z.array(z.looseObject({})) }),
    marginsAsked: shares,
  }),
});

// --- format 4: what is recorded -------------------------------------------------------------------------------------------

function toFact(figure: Figure): z.ZodType {
  switch (figure.type) {
    case 'quantity':
    case 'number':
      return numberOrNull.optional();
    case 'choice':
      return z.enum(figure.choices).nullable().optional();
    case 'answer':
      return answer.optional();
  }
}
const facts = (figures: Figures) =>
  z.looseObject(
    fromFigures<Record<string, z.ZodType>>(figures, (name, figure) =>
      figure.worse === undefined ? [] : [[factNameOf(name, figure), toFact(figure)]],
    ),
  );
const named = { id: z.string(), name: z.string() };

const componentFacts = z.looseObject({
  ...named,
  place: z.enum(['circuit', 'power-unit']),
  kind: z.enum(COMPONENT_KINDS),
  lineFunctions: z.array(lineFunction),
  sensing: z.enum(['pump', 'manifold', 'clamp-line']).nullable(),
  isBeyondShutOff: answer.optional(),
  figures: z.record(z.string(), z.number()),
});
const fixtureFacts = facts(FIXTURE_FIGURES).extend({
  ...named,
  elements: z.array(
    facts(ELEMENT_FIGURES).extend({
      ...named,
      kind: z.enum(['clamp', 'support', 'locator']),
      quantity: z.number(),
    }),
  ),
});
const operationFacts = numbers('requiredPressurePa', 'workpieceLimitPa').extend({
  ...named,
  number: z.number(),
  requiredBasis: z.enum(['typed', 'computed']),
  workpieceNotLimiting: z.boolean(),
  specificForceSpreadPa: numberOrNull.optional(),
  frictionSpreadPa: numberOrNull.optional(),
  unheldCase: z.string().optional(),
  locatorLimitPa: numberOrNull.optional(),
  limitingLocator: z.string().optional(),
  supportLoads: z
    .array(
      numbers('loadN', 'loadPerPaN').extend({
        elementId: z.string(),
        atPressurePa: z.number(),
      }),
    )
    .optional(),
});
const controlFacts = z.looseObject({
  machine: facts(MACHINE_FIGURES).extend({ ...named, behaviour: controlBehaviourSchema.loose() }),
  circuits: z.array(
    z.looseObject({ ...named, stationId: z.string(), hasValve: z.boolean(), coilPowerW: numberOrNull }),
  ),
  signals: z.array(
    z.looseObject({
      ...named,
      circuitId: z.string(),
      direction: z.enum(['output', 'input']),
      actsOn: z.string(),
      suppression: z.string().nullable(),
    }),
  ),
  wires: z.array(z.looseObject({ id: z.string(), signalId: z.string(), number: z.string() })),
  mCodes: z.array(
    z.looseObject({
      id: z.string(),
      stationId: z.string().nullable(),
      code: z.string(),
      action: z.enum(['clamp', 'unclamp', 'other']),
    }),
  ),
});

export const circuitFactsSchema = z.looseObject({
  circuit: facts(CIRCUIT_FIGURES).extend({ ...named, stationId: z.string() }),
  powerUnit: facts(POWER_UNIT_FIGURES).extend({ drive: z.enum(['air', 'electric']) }),
  components: z.array(componentFacts),
  fixture: fixtureFacts.nullable(),
  operations: z.array(operationFacts),
  settings: z.looseObject({
    inUse: z.looseObject({ settingPa: numberOrNull }).nullable(),
    isAsLeft: z.boolean(),
    readings: z
      .looseObject({
        settingPa: numberOrNull,
        fixtureId: z.string().nullable(),
        changed: z
          .array(z.looseObject({ kind: z.enum(COMPONENT_KINDS), lineFunctions: z.array(lineFunction) }))
          .optional(),
      })
      .nullable(),
  }),
  neighbours: z.array(
    z.looseObject({ ...named, fixture: fixtureFacts.nullable(), components: z.array(componentFacts) }),
  ),
  control: controlFacts,
  leastProbability: z.number(),
  marginsAsked: shares,
});
