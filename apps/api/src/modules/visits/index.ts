export { VisitsModule } from './visits.module.js';
