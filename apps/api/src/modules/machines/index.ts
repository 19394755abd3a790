export { fitsForm } from './station-count.js';
export { MachinesModule } from './machines.module.js';
export { MachinesService } from './machines.service.js';
