import { uuidv7 } from 'uuidv7';
import { groupBy } from '../../platform/group-by.js';
import {
  insertReports,
  listKnownCircuits,
  lockCircuits,
  updateReports,
  type KnownCircuit,
} from './counts.repository.js';
import { iso, type CountsSql } from './counts-sql.js';
import { upsertFindings, type NewFinding } from './findings.repository.js';
import { mergeReports, type Changes, type IncomingReport, type StoredReport } from './merge-reports.js';
import type { Reported, SetAside } from './read-delivery.js';
import { readTouched } from './read-touched.js';
import { insertReceipts, markHeard, readHashes, receiptKey, type Receipt } from './receipts.repository.js';

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

export interface Outcome {
  readonly isDuplicate: boolean;
  readonly intervals: number;
  readonly findings: number;
}

/** Of another body under a known id so much is kept [bytes]. */
const MOST_KEPT_BODY = 65_536;

interface Placed {
  readonly delivery: Delivery;
  readonly receipt: Receipt;
  readonly reports: readonly IncomingReport[];
  readonly findings: readonly NewFinding[];
}

type Machines = ReadonlyMap<string, { circuits: Map<string, KnownCircuit> }>;

async function readMachines(
  sql: CountsSql,
  organisationId: string,
  wanted: readonly { sourceId: string; reported: readonly Reported[] }[],
): Promise<Machines> {
  const references = new Map<string, { sourceId: string; reference: string }>();
  for (const { sourceId, reported } of wanted) {
    for (const { machine } of reported) references.set(`${sourceId} ${machine}`, { sourceId, reference: machine });
  }
  const machines = new Map<string, { circuits: Map<string, KnownCircuit> }>();
  if (references.size === 0) return machines;
  for (const row of await listKnownCircuits(sql, organisationId, [...references.values()])) {
    const key = `${row.sourceId} ${row.reference}`;
    const machine = machines.get(key) ?? { circuits: new Map<string, KnownCircuit>() };
    machines.set(key, machine);
    if (row.circuitId !== null) {
      machine.circuits.set(row.circuitId, row);
      machine.circuits.set(row.circuitName ?? '', row);
    }
  }
  return machines;
}

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
  for (const one of reported) {
    const machine = machines.get(`${source.sourceId} ${one.machine}`);
    const circuit = machine?.circuits.get(one.circuit);
    if (circuit?.circuitId != null) {
      reports.push({
        customerId: circuit.customerId,
        circuitId: circuit.circuitId,
        sourceId: source.sourceId,
        webhookId: source.webhookId,
        fromMs: one.fromMs,
        toMs: one.toMs,
        revision: one.revision,
        numbersHash: one.numbersHash,
        clampCycles: one.clampCycles,
        alarms: one.alarms,
        measures: one.measures,
        chosenAtMs: null,
        stands: true,
      });
      continue;
    }
    const kind = machine === undefined ? 'unknown-machine' : 'unknown-circuit';
    const subject = machine === undefined ? one.machine : `${one.machine}: ${one.circuit}`;
    const stray = strays.get(`${one.item} ${subject}`);
    if (stray === undefined) strays.set(`${one.item} ${subject}`, { kind, of: one, intervals: [one.raw], subject });
    else stray.intervals.push(one.raw);
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

const contender = (report: StoredReport) => ({
  sourceId: report.sourceId,
  webhookId: report.webhookId,
  from: iso(report.fromMs),
  to: iso(report.toMs),
  revision: report.revision,
  clampCycles: report.clampCycles,
  alarms: JSON.parse(report.alarms) as unknown,
  numbersHash: report.numbersHash,
});

function conflictFindings(changes: Changes): NewFinding[] {
  return changes.conflicts.map(({ key, conflict }) => {
    const [first] = conflict.reports;
    if (first === undefined) throw new Error('a conflict has two sides');
    // Its source is that of the smallest delivery of all sides: the same, whoever came first.
    const owner = conflict.reports.reduce((least, one) => (one.webhookId < least.webhookId ? one : least), first);
    return {
      key,
      kind: conflict.kind,
      sourceId: owner.sourceId,
      webhookId: owner.webhookId,
      subject: first.circuitId,
      circuitId: first.circuitId,
      detail: { contenders: conflict.reports.map(contender) },
      isSuperseded: conflict.isSuperseded,
    };
  });
}

export interface Written {
  /** reports that came to stand, or no longer do */
  readonly changed: readonly StoredReport[];
  readonly conflicts: number;
}

/** What reports that come in change, circuit by circuit. */
function foldIn(stored: readonly StoredReport[], incoming: readonly IncomingReport[]) {
  const byCircuit = groupBy(incoming, (report) => report.circuitId);
  const there = groupBy(stored, (report) => report.circuitId);
  const insert: StoredReport[] = [];
  const update: StoredReport[] = [];
  const findings: NewFinding[] = [];
  for (const [circuitId, reports] of byCircuit) {
    const changes = mergeReports(there.get(circuitId) ?? [], reports);
    insert.push(...changes.insert);
    update.push(...changes.update);
    findings.push(...conflictFindings(changes));
  }
  return { insert, update, findings };
}

/** Lays reports to what is stored, for all circuits of one organisation. The caller's transaction holds the circuits' locks on. */
async function writeReports(
  sql: CountsSql,
  organisationId: string,
  incoming: readonly IncomingReport[],
): Promise<Written> {
  if (incoming.length === 0) return { changed: [], conflicts: 0 };
  await lockCircuits(sql, [...new Set(incoming.map(({ circuitId }) => circuitId))]);
  const { insert, update, findings } = foldIn(await readTouched(sql, organisationId, incoming), incoming);
  await insertReports(sql, organisationId, insert);
  await updateReports(sql, organisationId, update);
  await upsertFindings(sql, organisationId, findings);
  return { changed: [...insert, ...update], conflicts: findings.length };
}

const otherBody = (delivery: Delivery): NewFinding => ({
  key: `same-id-other-body ${delivery.sourceId} ${delivery.webhookId} ${delivery.bodySha256.toString('hex')}`,
  kind: 'same-id-other-body',
  sourceId: delivery.sourceId,
  webhookId: delivery.webhookId,
  subject: delivery.webhookId,
  circuitId: null,
  detail: {
    body: delivery.body.subarray(0, MOST_KEPT_BODY).toString('utf8'),
    bytes: delivery.body.length,
    sha256: delivery.bodySha256.toString('hex'),
  },
  isSuperseded: false,
});

/** The first delivery of each webhook id, with the circuits that its intervals mean. */
function placeFirsts(deliveries: readonly Delivery[], machines: Machines): Map<string, Placed> {
  const firsts = new Map<string, Placed>();
  for (const delivery of deliveries) {
    const key = receiptKey(delivery.sourceId, delivery.webhookId);
    if (!firsts.has(key)) firsts.set(key, place(delivery, machines));
  }
  return firsts;
}

/** Which deliveries came under the id of another body. */
async function findOthers(
  sql: CountsSql,
  organisationId: string,
  deliveries: readonly Delivery[],
  { fresh, known }: { fresh: readonly Placed[]; known: readonly Placed[] },
): Promise<Delivery[]> {
  const receipts = known.map(({ receipt }) => receipt);
  const hashes = known.length === 0 ? new Map<string, string>() : await readHashes(sql, organisationId, receipts);
  for (const { receipt } of fresh) {
    hashes.set(receiptKey(receipt.sourceId, receipt.webhookId), receipt.bodySha256.toString('hex'));
  }
  return deliveries.filter(
    (delivery) => hashes.get(receiptKey(delivery.sourceId, delivery.webhookId)) !== delivery.bodySha256.toString('hex'),
  );
}

/**
 * Takes deliveries of one organisation in, within the caller's transaction: receipts, reports, findings. A delivery that is
 * known changes nothing; the first of a webhook id wins, whatever else comes under it. `unheard` are those whose source is to be
 * marked as heard.
 *
 * What does not need an answer first is sent together: a group takes few turns with the database, and the next waits less.
 */
export async function takeIn(
  sql: CountsSql,
  organisationId: string,
  deliveries: readonly Delivery[],
  unheard: readonly Delivery[],
  afterwards: (written: Written) => Promise<void> = () => Promise.resolve(),
): Promise<Outcome[]> {
  const firsts = placeFirsts(deliveries, await readMachines(sql, organisationId, deliveries));
  const placed = [...firsts.values()];
  const all = placed.flatMap(({ reports }) => reports);
  // The locks go first: what is read of the counts after them stays as it is until the commit.
  const [, freshKeys, stored] = await Promise.all([
    all.length === 0 ? undefined : lockCircuits(sql, [...new Set(all.map(({ circuitId }) => circuitId))]),
    insertReceipts(
      sql,
      organisationId,
      placed.map(({ receipt }) => receipt),
    ),
    all.length === 0 ? [] : readTouched(sql, organisationId, all),
  ]);
  const [fresh, known]: [Placed[], Placed[]] = [[], []];
  for (const [key, one] of firsts) (freshKeys.has(key) ? fresh : known).push(one);
  const others = await findOthers(sql, organisationId, deliveries, { fresh, known });
  const changes = foldIn(
    stored,
    fresh.flatMap(({ reports }) => reports),
  );
  const findings = [...changes.findings, ...fresh.flatMap((one) => one.findings), ...others.map(otherBody)];
  const written: Written = {
    changed: changes.update.length === 0 ? changes.insert : [...changes.insert, ...changes.update],
    conflicts: changes.findings.length,
  };
  await Promise.all([
    insertReports(sql, organisationId, changes.insert),
    updateReports(sql, organisationId, changes.update),
    upsertFindings(sql, organisationId, uniqueByKey(findings)),
    written.changed.length === 0 ? undefined : afterwards(written),
  ]);
  if (unheard.length > 0) await markHeard(sql, organisationId, latestPerSource(unheard));
  const taken = new Set(fresh.map(({ delivery }) => delivery));
  return deliveries.map((delivery) => {
    const one = firsts.get(receiptKey(delivery.sourceId, delivery.webhookId));
    if (one === undefined || !taken.has(delivery)) return { isDuplicate: true, intervals: 0, findings: 0 };
    return { isDuplicate: false, intervals: one.receipt.intervals, findings: one.findings.length };
  });
}

const uniqueByKey = (findings: readonly NewFinding[]): NewFinding[] => [
  ...new Map(findings.map((finding) => [finding.key, finding])).values(),
];

const latestPerSource = (deliveries: readonly Delivery[]) => [
  ...new Map(deliveries.map(({ sourceId, clockOffsetS }) => [sourceId, { sourceId, clockOffsetS }])).values(),
];

function place(delivery: Delivery, machines: Machines): Placed {
  const { reports, aside } = placeReports(delivery, delivery.reported, machines);
  const all = [...delivery.aside, ...aside];
  return {
    delivery,
    reports,
    findings: all.map((one) => toFinding(delivery, one)),
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

/** Takes a part that was set aside in again; what still cannot be taken is told and nothing of it written. */
export async function takeInPart(
  sql: CountsSql,
  organisationId: string,
  source: { sourceId: string; webhookId: string },
  read: { reported: readonly Reported[]; aside: readonly SetAside[] },
): Promise<{ written: Written | null; aside: readonly SetAside[] }> {
  const machines = await readMachines(sql, organisationId, [{ sourceId: source.sourceId, reported: read.reported }]);
  const { reports, aside } = placeReports(source, read.reported, machines);
  const all = [...read.aside, ...aside];
  if (all.length > 0) return { written: null, aside: all };
  return { written: await writeReports(sql, organisationId, reports), aside: [] };
}
