export { SignalsModule } from './signals.module.js';
