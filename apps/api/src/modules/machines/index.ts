export { MachinesModule } from './machines.module.js';
