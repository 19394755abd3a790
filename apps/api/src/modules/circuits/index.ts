export { CircuitsModule } from './circuits.module.js';
export { CircuitsService } from './circuits.service.js';
