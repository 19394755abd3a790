import { holdingForce } from '../../holding/holding-force.js';
import { defineCalculation } from '../define.js';
import {
  boolean,
  count,
  direction,
  list,
  optional,
  plain,
  quantity,
  text,
  vector,
  withDefault,
} from '../input-fields.js';
import {
  booleanOut,
  listOut,
  numberListOut,
  numberOut,
  objectOut,
  quantityListOut,
  quantityOut,
  wordOut,
} from '../output-fields.js';

export const holdingEntries = [
  defineCalculation({
    id: 'holding-force',
    title: 'Clamping that holds a part against its cuts',
    group: 'holding',
    cautions: ['judgement', 'safety-factor', 'not-a-safety-function'],
    needsSolver: true,
    inputs: {
      partMass: withDefault(quantity('mass'), { value: 0, unit: 'kg' }),
      centreOfMass: optional(vector('length')),
      gravity: withDefault(direction(), [0, 0, -1]),
      locators: list(
        {
          name: optional(text()),
          point: vector('length'),
          normal: direction(),
          friction: plain(),
          limit: optional(quantity('force')),
          limitAtScaleOne: optional(quantity('force')),
        },
        { most: 100 },
      ),
      clamps: list(
        {
          name: optional(text()),
          point: vector('length'),
          direction: direction(),
          force: quantity('force'),
          friction: withDefault(plain(), 0),
          fixed: withDefault(boolean(), false),
        },
        { least: 0, most: 100 },
      ),
      loads: list(
        {
          name: optional(text()),
          force: vector('force'),
          point: vector('length'),
          moment: optional(vector('torque')),
        },
        { most: 2000 },
      ),
      safetyFactor: plain(),
      coneFacets: withDefault(count({ least: 4, most: 128 }), 8),
      forceStep: withDefault(plain(), 0.1),
      frictionStep: withDefault(plain(), 0.05),
      shift: optional(quantity('length')),
      leastScale: optional(plain()),
    },
    outputs: {
      scale: numberOut(),
      held: booleanOut(),
      governingCase: numberOut(),
      caseScales: numberListOut(),
      contacts: listOut({
        kind: wordOut('locator', 'clamp'),
        index: numberOut(),
        name: wordOut(),
        normal: quantityOut('force', 'N'),
        friction: quantityOut('force', 'N'),
        force: quantityListOut('force', 'N'),
        atLimit: wordOut('none', 'lifting', 'sliding', 'normal-limit'),
      }),
      bestChange: objectOut({
        kind: wordOut('clamp-force', 'clamp-friction', 'clamp-position', 'locator-friction', 'locator-position'),
        index: numberOut(),
        name: wordOut(),
        newForce: quantityOut('force', 'N'),
        newFriction: numberOut(),
        newPoint: quantityListOut('length', 'mm'),
        newScale: numberOut(),
        gain: numberOut(),
      }),
    },
    calculate(input, { solver, onProgress }) {
      if (!solver) throw new Error('holding-force needs tools.solver: load it once with loadSolver()');
      const { contacts, ...result } = holdingForce({ ...input, solver, onProgress });
      return { ...result, contacts: contacts && contacts.map((contact) => ({ name: undefined, ...contact })) };
    },
  }),
];
