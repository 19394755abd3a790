import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import { insertReports, lockCircuits, readTouched, updateReports, type StoredReport } from '../alarm-counts/index.js';
import type { AlarmRulesEvaluator } from '../alarm-rules/index.js';
import type { FindingKind } from '@repo/contracts';
import { upsertFindings, type NewFinding } from '../findings/index.js';
import type { Machines } from './known-machines.js';
import { foldIn } from './lay-in-reports.js';
import { placeFirsts, type Delivery, type Placed } from './place-reports.js';
import { insertReceipts, latestPerSource, markHeard, readHashes, receiptKey } from './receipts.repository.js';

export interface Outcome {
  readonly isDuplicate: boolean;
  /** its source was archived before it was written: nothing of it was */
  readonly isGone?: true;
  readonly intervals: number;
  /** kinds of what was set aside or contradicted, one for each finding */
  readonly findings: readonly FindingKind[];
}

const otherBody = (delivery: Delivery): NewFinding => ({
  key: `same-id-other-body ${delivery.sourceId} ${delivery.webhookId} ${delivery.bodySha256.toString('hex')}`,
  kind: 'same-id-other-body',
  sourceId: delivery.sourceId,
  webhookId: delivery.webhookId,
  subject: delivery.webhookId,
  circuitId: null,
  detail: {
    body: delivery.body.toString('utf8'),
    bytes: delivery.body.length,
    sha256: delivery.bodySha256.toString('hex'),
  },
  isSuperseded: false,
});

/** Which deliveries came under the id of another body. */
async function findOthers(
  sql: SqlTransaction,
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

const GONE: Outcome = { isDuplicate: false, isGone: true, intervals: 0, findings: [] };

/** A group's deliveries of one organisation. */
export interface OfOrganisation {
  readonly organisationId: string;
  readonly deliveries: readonly Delivery[];
  /** those whose source is to be marked as heard */
  readonly unheard: readonly Delivery[];
}

/** The rules that look at what changed. */
export type GatewayRules = Pick<AlarmRulesEvaluator, 'listRules' | 'apply'>;

/** Takes in what comes of sources that are still in use; of the others nothing. */
export async function takeInOfLive(
  sql: SqlTransaction,
  group: OfOrganisation,
  { machines, archived, rules }: { machines: Machines; archived: ReadonlySet<string>; rules: GatewayRules },
): Promise<Outcome[]> {
  if (archived.size === 0) return takeIn(sql, group, machines, rules);
  const isLive = ({ sourceId }: Delivery): boolean => !archived.has(sourceId);
  const live = group.deliveries.filter(isLive);
  const outcomes = await takeIn(
    sql,
    { ...group, deliveries: live, unheard: group.unheard.filter(isLive) },
    machines,
    rules,
  );
  const byDelivery = new Map(live.map((delivery, index) => [delivery, outcomes[index]]));
  return group.deliveries.map((delivery) => byDelivery.get(delivery) ?? GONE);
}

/**
 * Takes deliveries of one organisation in, within the caller's transaction: receipts, reports, findings. A delivery that is
 * known changes nothing; the first of a webhook id wins, whatever else comes under it.
 *
 * What does not need an answer first is sent together: a group takes few turns with the database, and the next waits less.
 */
async function takeIn(
  sql: SqlTransaction,
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
  for (const [key, first] of firsts) (freshKeys.has(key) ? fresh : known).push(first);
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
  const other = new Set(others);
  return deliveries.map((delivery) => {
    if (other.has(delivery)) return { isDuplicate: false, intervals: 0, findings: ['same-id-other-body'] };
    const result = taken.get(delivery);
    return result === undefined
      ? { isDuplicate: true, intervals: 0, findings: [] }
      : outcomeOf(result, contradictions(result, changes.findings));
  });
}

/** Findings in which a delivery is one of the sides; a revision that is superseded needs nobody. */
const contradictions = ({ delivery }: Placed, findings: readonly NewFinding[]): FindingKind[] =>
  findings
    .filter(
      ({ isSuperseded, sides }) => !isSuperseded && sides?.has(`${delivery.sourceId} ${delivery.webhookId}`) === true,
    )
    .map(({ kind }) => kind);

export const outcomeOf = ({ receipt, findings }: Placed, contradicted: readonly FindingKind[] = []): Outcome => ({
  isDuplicate: false,
  intervals: receipt.intervals,
  findings: [...findings.map(({ kind }) => kind), ...contradicted],
});

const uniqueByKey = (findings: readonly NewFinding[]): NewFinding[] => [
  ...new Map(findings.map((finding) => [finding.key, finding])).values(),
];
