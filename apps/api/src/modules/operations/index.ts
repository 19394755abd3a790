export { OperationsModule } from './operations.module.js';
export { OperationsService } from './operations.service.js';
export { toCutFigures, toHoldingElements } from './cut-figures.js';
