export { Askers } from './askers.js';
export { ComputePool } from './compute-pool.js';
