export { ExportsModule } from './exports.module.js';
