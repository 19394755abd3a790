export { PowerUnitsModule } from './power-units.module.js';
export { PowerUnitsService } from './power-units.service.js';
