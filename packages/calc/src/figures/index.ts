export { CIRCUIT_FIGURES } from './circuit-figures.js';
export {
  COMPONENT_FIGURES,
  type ComponentFigure,
  type ComponentFigureName,
  type ComponentKind,
} from './component-figures.js';
export { SI_ENDINGS } from './figure.types.js';
export type * from './figure.types.js';
export { ELEMENT_FIGURES, FIXTURE_FIGURES } from './fixture-figures.js';
export { MACHINE_CONTROL, MACHINE_FIGURES, MACHINE_MAKE, MACHINE_SUPPLY } from './machine-figures.js';
export { POWER_UNIT_FIGURES } from './power-unit-figures.js';
export {
  factNameOf,
  fromFigures,
  listFactNames,
  listTooLow,
  mapFigures,
  pickControlFacts,
  pickFacts,
  toWords,
  unsaidOf,
} from './read-figures.js';
