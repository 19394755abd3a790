export { AlarmCountsModule } from './alarm-counts.module.js';
export { chooseReports, reportsIn, withoutDecided } from './choose-reports.js';
export { toContender, tellMany } from './contenders.js';
export {
  insertReports,
  listAlarms,
  listOverlapping,
  lockCircuits,
  updateReports,
  type CountedInterval,
} from './counts.repository.js';
export {
  areApart,
  mergeReports,
  rangesOf,
  type Changes,
  type IncomingReport,
  type Range,
  type StoredReport,
} from './merge-reports.js';
export { sidesOf } from './prevailing-reports.js';
export { readTouched } from './read-touched.js';
