import { groupBy } from '../../platform/group-by.js';
import { insertReports, lockCircuits, updateReports } from './counts.repository.js';
import type { EffectiveRule } from './alarm-issues.repository.js';
import { iso, type CountsSql } from './counts-sql.js';
import { upsertFindings, type NewFinding } from './findings.repository.js';
import { readMachines, type Machines } from './known-machines.js';
import { mergeReports, type Changes, type IncomingReport, type StoredReport } from './merge-reports.js';
import { placeFirsts, placeReports, type Delivery, type Placed } from './place-reports.js';
import type { Reported, SetAside } from './read-delivery.js';
import { readTouched } from './read-touched.js';
import { insertReceipts, latestPerSource, markHeard, readHashes, receiptKey } from './receipts.repository.js';

export interface Outcome {
  readonly isDuplicate: boolean;
  readonly intervals: number;
  readonly findings: number;
}

/** Of another body under a known id so much is kept [bytes]. */
const MOST_KEPT_BODY = 65_536;

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

/** A group's deliveries of one organisation. */
export interface OfOrganisation {
  readonly organisationId: string;
  readonly deliveries: readonly Delivery[];
  /** those whose source is to be marked as heard */
  readonly unheard: readonly Delivery[];
}

/** The rules that look at what changed. */
export interface GatewayRules {
  /** those that may have something to say; none where no alarm came or went */
  listRules(
    sql: CountsSql,
    organisationId: string,
    changed: readonly StoredReport[],
  ): Promise<readonly EffectiveRule[]>;
  apply(
    sql: CountsSql,
    organisationId: string,
    changed: readonly StoredReport[],
    rules: readonly EffectiveRule[],
  ): Promise<void>;
}

/**
 * Takes deliveries of one organisation in, within the caller's transaction: receipts, reports, findings. A delivery that is
 * known changes nothing; the first of a webhook id wins, whatever else comes under it.
 *
 * What does not need an answer first is sent together: a group takes few turns with the database, and the next waits less.
 */
export async function takeIn(
  sql: CountsSql,
  { organisationId, deliveries, unheard }: OfOrganisation,
  machines: Machines,
  rules: GatewayRules,
): Promise<Outcome[]> {
  const firsts = placeFirsts(deliveries, machines);
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
  const changed: readonly StoredReport[] =
    changes.update.length === 0 ? changes.insert : [...changes.insert, ...changes.update];
  const [found] = await Promise.all([
    rules.listRules(sql, organisationId, changed),
    insertReports(sql, organisationId, changes.insert),
    updateReports(sql, organisationId, changes.update),
    upsertFindings(sql, organisationId, uniqueByKey(findings)),
  ]);
  if (found.length > 0) await rules.apply(sql, organisationId, changed, found);
  if (unheard.length > 0) await markHeard(sql, organisationId, latestPerSource(unheard));
  const taken = new Map(fresh.map((one) => [one.delivery, one]));
  return deliveries.map((delivery) => {
    const one = taken.get(delivery);
    return one === undefined ? { isDuplicate: true, intervals: 0, findings: 0 } : outcomeOf(one);
  });
}

export const outcomeOf = ({ receipt, findings }: Placed): Outcome => ({
  isDuplicate: false,
  intervals: receipt.intervals,
  findings: findings.length,
});

const uniqueByKey = (findings: readonly NewFinding[]): NewFinding[] => [
  ...new Map(findings.map((finding) => [finding.key, finding])).values(),
];

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
