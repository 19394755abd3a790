import { uuidv7 } from 'uuidv7';
import { groupBy } from '../../platform/group-by.js';
import type { IncomingReport } from '../alarm-counts/index.js';
import type { NewFinding } from '../findings/index.js';
import { machineKey, type KnownMachine, type Machines } from './known-machines.js';
import type { Reported, SetAside } from './read-delivery.js';
import { receiptKey, type Receipt } from './receipts.repository.js';

/** A signed delivery, read, ready to be written. */
export interface Delivery {
  readonly organisationId: string;
  readonly sourceId: string;
  readonly webhookId: string;
  readonly bodySha256: Buffer;
  readonly body: Buffer;
  readonly sentAtMs: number;
  /** the gateway's clock less ours */
  readonly clockOffsetS: number;
  readonly reported: readonly Reported[];
  readonly aside: readonly SetAside[];
}

/** A delivery with the circuits that its intervals mean. */
export interface Placed {
  readonly delivery: Delivery;
  readonly receipt: Receipt;
  readonly reports: readonly IncomingReport[];
  readonly findings: readonly NewFinding[];
}

/** So many parts of one kind are findings of their own; more of them in one delivery are one finding that keeps them all. */
const MOST_APART = 20;

/** Parts of one kind, kept together: they go in together, as far as they can. */
function gathered(source: { sourceId: string; webhookId: string }, all: readonly SetAside[]): NewFinding {
  const [first, last] = [all[0], all.at(-1)] as [SetAside, SetAside];
  return {
    ...toFinding(source, first),
    key: `${first.kind} ${source.sourceId} ${source.webhookId} together`,
    subject: first.subject === '' ? '' : `${first.subject} … ${last.subject}`,
    detail: {
      intervals: all.reduce((sum, one) => sum + one.intervals, 0),
      subjects: all.length,
      parts: all.map(({ item, part }) => ({ item, part })),
    },
  };
}

const toFindings = (source: { sourceId: string; webhookId: string }, all: readonly SetAside[]): NewFinding[] =>
  [...groupBy(all, ({ kind }) => kind).values()].flatMap((alike) =>
    alike.length > MOST_APART ? [gathered(source, alike)] : alike.map((one) => toFinding(source, one)),
  );

const toFinding = (source: { sourceId: string; webhookId: string }, aside: SetAside): NewFinding => ({
  key: `${aside.kind} ${source.sourceId} ${source.webhookId} ${aside.item} ${aside.subject}`,
  kind: aside.kind,
  sourceId: source.sourceId,
  webhookId: source.webhookId,
  subject: aside.subject,
  circuitId: null,
  detail: { item: aside.item, machine: aside.machine, intervals: aside.intervals, part: aside.part },
  isSuperseded: false,
});

/** Which circuit each interval means; what means none is set aside, by machine or by circuit. */
export function placeReports(
  source: { sourceId: string; webhookId: string },
  reported: readonly Reported[],
  machines: Machines,
): { reports: IncomingReport[]; aside: SetAside[] } {
  const reports: IncomingReport[] = [];
  const strays = new Map<string, { kind: SetAside['kind']; of: Reported; intervals: unknown[]; subject: string }>();
  let [machineName, machine]: [string, KnownMachine | undefined] = ['', undefined];
  for (const report of reported) {
    // Intervals come machine by machine.
    if (report.machine !== machineName) {
      machineName = report.machine;
      machine = machines.get(machineKey(source.sourceId, machineName));
    }
    const circuit = machine?.circuits.get(report.circuit);
    if (circuit?.circuitId != null) {
      reports.push({
        customerId: circuit.customerId,
        circuitId: circuit.circuitId,
        sourceId: source.sourceId,
        webhookId: source.webhookId,
        fromMs: report.fromMs,
        toMs: report.toMs,
        revision: report.revision,
        numbersHash: report.numbersHash,
        clampCycles: report.clampCycles,
        alarms: report.alarms,
        measures: report.measures,
        chosenAtMs: null,
        prevails: true,
      });
      continue;
    }
    const kind = machine === undefined ? 'unknown-machine' : 'unknown-circuit';
    const subject = machine === undefined ? report.machine : `${report.machine}: ${report.circuit}`;
    const stray = strays.get(`${report.item} ${subject}`);
    if (stray === undefined)
      strays.set(`${report.item} ${subject}`, { kind, of: report, intervals: [report.raw], subject });
    else stray.intervals.push(report.raw);
  }
  const aside = [...strays.values()].map(({ kind, of, intervals, subject }) => ({
    kind,
    item: of.item,
    subject,
    machine: of.machine,
    part: { machine: of.machine, intervals },
    intervals: intervals.length,
  }));
  return { reports, aside };
}

/** A delivery with its receipt, its reports and what of it is set aside. */
export function placeDelivery(delivery: Delivery, machines: Machines): Placed {
  const { reports, aside } = placeReports(delivery, delivery.reported, machines);
  const all = [...delivery.aside, ...aside];
  return {
    delivery,
    reports,
    findings: toFindings(delivery, all),
    receipt: {
      id: uuidv7(),
      sourceId: delivery.sourceId,
      webhookId: delivery.webhookId,
      bodySha256: delivery.bodySha256,
      sentAtMs: delivery.sentAtMs,
      intervals: reports.length,
      setAside: all.reduce((sum, one) => sum + Math.max(one.intervals, 1), 0),
    },
  };
}

/** The first delivery of each webhook id, with the circuits that its intervals mean. */
export function placeFirsts(deliveries: readonly Delivery[], machines: Machines): Map<string, Placed> {
  const firsts = new Map<string, Placed>();
  for (const delivery of deliveries) {
    const key = receiptKey(delivery.sourceId, delivery.webhookId);
    if (!firsts.has(key)) firsts.set(key, placeDelivery(delivery, machines));
  }
  return firsts;
}
