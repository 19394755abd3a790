export { OperationsModule } from './operations.module.js';
export { OperationsService } from './operations.service.js';
export { toCutFigures, toHoldingElements } from './cut-figures.js';
export { COMPUTED_BY, typedRequiredOf } from './typed-required.js';
