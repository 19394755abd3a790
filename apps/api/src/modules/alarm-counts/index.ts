export { AlarmCountsModule } from './alarm-counts.module.js';
