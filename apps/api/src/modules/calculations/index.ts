export { CalculationsModule } from './calculations.module.js';
