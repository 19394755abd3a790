import type { Contender } from '@repo/contracts';
import { iso } from '../../platform/clock/iso.js';
import { reportedAlarms } from './count-documents.js';
import type { StoredReport } from './merge-reports.js';

export const toContender = (report: StoredReport): Contender => ({
  sourceId: report.sourceId,
  webhookId: report.webhookId,
  from: iso(report.fromMs),
  to: iso(report.toMs),
  revision: report.revision,
  clampCycles: report.clampCycles,
  alarms: reportedAlarms.readText(report.alarms, report.webhookId),
  numbersHash: report.numbersHash,
});

/** Of many contradictions no more reports than these are shown. */
const MOST_SHOWN = 20;

/** One of each delivery, since what is chosen is a delivery; of one that contradicts itself its first reports. */
function shownOf(reports: readonly StoredReport[]): readonly StoredReport[] {
  const firsts = new Map(reports.toReversed().map((report) => [`${report.sourceId} ${report.webhookId}`, report]));
  const first = new Set(firsts.values());
  const shown = first.size > 1 ? reports.filter((report) => first.has(report)) : reports;
  return shown.slice(0, MOST_SHOWN);
}

/** Of many: all of them are stored reports of the circuit, and lie in this stretch. */
const stretchOf = (reports: readonly StoredReport[]) => ({
  subjects: new Set(reports.map(({ fromMs, toMs }) => `${fromMs}/${toMs}`)).size,
  stretch: {
    from: iso(reports.reduce((least, { fromMs }) => Math.min(least, fromMs), Infinity)),
    to: iso(reports.reduce((most, { toMs }) => Math.max(most, toMs), -Infinity)),
  },
});

/** Many contradictions as one: some of their reports, how many intervals they are, and where they lie. */
export const tellMany = (reports: readonly StoredReport[]) => ({
  contenders: shownOf(reports).map(toContender),
  ...stretchOf(reports),
});
