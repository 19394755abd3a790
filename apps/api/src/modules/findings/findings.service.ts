import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { findingSchema, type Contender, type Finding, type InputOf, type routes } from '@repo/contracts';
import { z } from 'zod';
import { Audit } from '../../platform/audit/audit.js';
import type { Actor } from '../../platform/auth/actor.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { chooseReports, reportsIn, tellMany, toContender, withoutDecided } from '../alarm-counts/index.js';
import { AlarmRulesEvaluator } from '../alarm-rules/index.js';
import { findingDetail } from './finding-detail.js';
import { FindingsDeskRepository, type FindingRow } from './findings-desk.repository.js';
import { PartsSetAside } from './parts-set-aside.js';

type Findings = typeof routes.findings;
type Settling = InputOf<Findings['settle']>['body'];
type Told = Pick<Contender, 'sourceId' | 'webhookId' | 'from' | 'to' | 'revision' | 'numbersHash'>;

const ALIKE_AT_ONCE = 500;
const SHOWN = 2_000;
const CONFLICTS = new Set(['same-revision', 'overlap']);
function toFinding(row: FindingRow): Finding {
  // A list goes on without a detail that cannot be read; whoever settles or tries again is told.
  const detail = findingDetail.readOrNull(row.detail) ?? findingDetail.read({});
  const parts = detail.parts?.map(({ part: one }) => one) ?? detail.part;
  const part = detail.body ?? (parts === undefined ? null : JSON.stringify(parts));
  return {
    id: row.id,
    sourceId: row.source_id,
    kind: findingSchema.shape.kind.parse(row.kind),
    state: findingSchema.shape.state.parse(row.state),
    subject: row.circuit_name ?? row.subject,
    webhookId: row.webhook_id,
    circuitId: row.circuit_id,
    circuitName: row.circuit_name,
    machineId: row.machine_id,
    machineName: row.machine_name,
    foundAt: row.found_at.toISOString(),
    settledAt: isoOrNull(row.settled_at),
    settlement: row.settlement,
    contenders: detail.contenders,
    partCount: detail.intervals,
    subjectCount: detail.subjects,
    part: part === null ? null : part.slice(0, SHOWN),
    version: row.version,
  };
}

@Injectable()
export class FindingsService {
  constructor(
    private readonly desk: FindingsDeskRepository,
    private readonly rules: AlarmRulesEvaluator,
    private readonly parts: PartsSetAside,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
  ) {}

  async list(query: InputOf<Findings['list']>['query']) {
    const { state, sourceId, machineId } = query;
    const rows = await this.desk.list(
      { state, sourceId, machineId },
      this.cursors.read('findings', query.cursor, 2),
      query.limit,
    );
    const page = this.cursors.page('findings', rows, query.limit, (row) => [row.found_at.toISOString(), row.id]);
    return { items: page.rows.map(toFinding), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Finding> {
    return toFinding(await this.find(id));
  }

  /** The chosen delivery stands wherever the same two contradict each other on this circuit. */
  async settle(id: string, version: number, body: Settling, actor: Actor) {
    const row = await this.open(id, version);
    if (!CONFLICTS.has(row.kind) || row.circuit_id === null) throw wrongWay('Nothing contradicts itself here.');
    const isChosen = (one: Told): boolean =>
      one.sourceId === body.sourceId &&
      one.webhookId === body.webhookId &&
      (body.numbersHash === undefined || body.numbersHash === one.numbersHash) &&
      (body.interval === undefined || isSameInterval(body.interval, one));
    const many = findingDetail.read(row.detail, row.webhook_id).stretch;
    if (many !== undefined) return this.settleMany(row, many, { isChosen, body, actor });
    const chosen = toFinding(row).contenders.filter(isChosen);
    if (chosen.length === 0) throw invalidField('webhookId', body.webhookId, 'a delivery of this finding');
    if (chosen.length > 1 && row.kind === 'same-revision') {
      throw invalidField('numbersHash', body.numbersHash, 'which of the numbers of this delivery');
    }
    const sides = sidesOf(row);
    const alike = (await this.desk.listConflicts(row.circuit_id)).filter(
      (one) => sidesOf(one) === sides && findingDetail.readOrNull(one.detail)?.stretch === undefined,
    );
    // A delivery that contradicts itself is decided one by one.
    const together = body.numbersHash === undefined && sides.includes('\n') ? alike : [row];
    const reports = together.flatMap((one) => toFinding(one).contenders.filter(isChosen));
    return this.choose(row, [row, ...together], reports, { body, actor });
  }

  /** All that the chosen delivery says of the stretch; its reports are those that are stored, of which the finding shows a few. */
  private async settleMany(
    row: FindingRow,
    stretch: { from: string; to: string },
    { isChosen, body, actor }: { isChosen: (one: Told) => boolean; body: Settling; actor: Actor },
  ) {
    const kind = row.kind === 'overlap' ? 'overlap' : 'same-revision';
    const many = { kind, sides: sidesOf(row).split('\n'), stretch } as const;
    const reports = await reportsIn(this.desk.sql, actor.organisationId, row.circuit_id ?? '', many);
    const chosen = reports.filter((report) => isChosen(toContender(report)));
    if (chosen.length === 0) throw invalidField('webhookId', body.webhookId, 'a delivery of this finding');
    const contradictsItself = kind === 'same-revision' && many.sides.length === 1;
    if (contradictsItself && body.interval === undefined) {
      throw invalidField('interval', body.interval, 'which of the intervals of this delivery');
    }
    if (new Set(chosen.map(({ fromMs, toMs }) => `${fromMs}/${toMs}`)).size < chosen.length) {
      throw invalidField('numbersHash', body.numbersHash, 'which of the numbers of this delivery');
    }
    if (contradictsItself) {
      const left = withoutDecided(reports, chosen);
      if (left.length > 0) return this.chooseOne(row, { chosen: chosen.map(toContender), left }, { body, actor });
    }
    return this.choose(row, [row], chosen.map(toContender), { body, actor });
  }

  /** Of a delivery that contradicts itself in many intervals: the finding stays open with those in which nobody has chosen. */
  private async chooseOne(
    row: FindingRow,
    { chosen, left }: { chosen: readonly Told[]; left: Parameters<typeof tellMany>[0] },
    { body, actor }: { body: Settling; actor: Actor },
  ) {
    await this.letPrevail(row, [row], chosen, actor);
    const detail = findingDetail.read(row.detail, row.webhook_id);
    if (!(await this.desk.keep(row, { ...detail, ...tellMany(left) }))) throw new AppError('request.stale');
    await this.audit.record({
      action: 'settled-in-part',
      entity: 'finding',
      entityId: row.id,
      changes: { kind: row.kind, subject: row.subject, settlement: `prevails: ${body.webhookId}` },
    });
    const finding = await this.get(row.id);
    return { finding, settled: 0, version: finding.version };
  }

  private async choose(
    row: FindingRow,
    rows: readonly FindingRow[],
    reports: readonly Told[],
    { body, actor }: { body: Settling; actor: Actor },
  ) {
    await this.letPrevail(row, rows, reports, actor);
    return this.finish(row, rows, { state: 'settled', settlement: `prevails: ${body.webhookId}` }, actor);
  }

  private async letPrevail(row: FindingRow, rows: readonly FindingRow[], reports: readonly Told[], actor: Actor) {
    const { organisationId } = actor;
    const changed = await chooseReports(this.desk.sql, organisationId, row.circuit_id ?? '', reports, Date.now());
    const receivedMs = Math.min(...rows.map((one) => one.found_at.getTime()));
    await this.rules.evaluate(this.desk.sql, organisationId, changed, receivedMs);
  }

  /**
   * What was set aside is taken in again; what stands in its way still is said. Each part goes in whole or not at all, and a finding of
   * many keeps those that are left.
   */
  async retry(id: string, version: number, body: InputOf<Findings['retry']>['body'], actor: Actor) {
    const row = await this.open(id, version);
    if (CONFLICTS.has(row.kind)) throw wrongWay('There is nothing to take in again.');
    const first = await this.takeIn(row, actor.organisationId);
    const [problem] = first.problems;
    if (problem !== undefined && first.taken === 0) {
      throw new AppError('finding.still', {
        detail: `It still cannot be taken in: ${problem.kind}${problem.subject === '' ? '' : `, ${problem.subject}`}.`,
      });
    }
    if (first.isLeft) {
      await this.audit.record({
        action: 'taken-in-part',
        entity: 'finding',
        entityId: row.id,
        changes: { kind: row.kind, subject: row.subject, parts: first.taken },
      });
      const finding = await this.get(row.id);
      return { finding, settled: 0, version: finding.version };
    }
    const done = [row];
    for (const alike of body.alike ? await this.desk.listAlike(row, ALIKE_AT_ONCE) : []) {
      if (!(await this.takeIn(alike, actor.organisationId)).isLeft) done.push(alike);
    }
    return this.finish(row, done, { state: 'taken-in', settlement: '' }, actor);
  }

  async dismiss(id: string, version: number, body: InputOf<Findings['dismiss']>['body'], actor: Actor) {
    const row = await this.open(id, version);
    const alike = body.alike ? await this.desk.listAlike(row, ALIKE_AT_ONCE) : [];
    return this.finish(row, [row, ...alike], { state: 'dismissed', settlement: body.reason }, actor);
  }

  /** Takes in what can be, and keeps the rest. */
  private async takeIn(row: FindingRow, organisationId: string) {
    const detail = findingDetail.read(await this.desk.readDetail(row.id), row.webhook_id);
    const from = { sourceId: row.source_id ?? '', webhookId: row.webhook_id };
    const parts = detail.parts ?? [{ item: detail.item, part: detail.part }];
    const kept = row.kind === 'same-id-other-body' ? { ...from, body: wholeBody(detail) } : { ...from, parts };
    const { changed, problems, left } = await this.parts.takeIn(this.desk.sql, organisationId, kept);
    await this.rules.evaluate(this.desk.sql, organisationId, changed, row.found_at.getTime());
    const taken = parts.length - left.length;
    if (left.length > 0 && taken > 0) {
      const intervals = left.reduce((sum, { part }) => sum + countIntervals(part), 0);
      const rest = { ...detail, parts: [...left], subjects: left.length, intervals };
      if (!(await this.desk.keep(row, rest))) throw new AppError('request.stale');
    }
    return { problems, taken, isLeft: left.length > 0 };
  }

  private async finish(
    row: FindingRow,
    rows: readonly FindingRow[],
    end: { state: string; settlement: string },
    actor: Actor,
  ) {
    const ids = [...new Set(rows.map((one) => one.id))];
    if (!(await this.desk.close(ids, { ...end, userId: actor.userId }, row))) throw new AppError('request.stale');
    await this.audit.record({
      action: end.state,
      entity: 'finding',
      entityId: row.id,
      changes: { ...end, kind: row.kind, subject: row.subject, findings: ids.length },
    });
    const finding = await this.get(row.id);
    return { finding, settled: ids.length, version: finding.version };
  }

  private async open(id: string, version: number): Promise<FindingRow> {
    const row = await this.find(id);
    assertVersion(row.version, version);
    if (row.state !== 'open') throw new AppError('finding.settled');
    return row;
  }

  private async find(id: string): Promise<FindingRow> {
    const row = await this.desk.find(id);
    if (row === null) throw notFound();
    return row;
  }
}

const isSameInterval = (one: { from: string; to: string }, other: { from: string; to: string }): boolean =>
  Date.parse(one.from) === Date.parse(other.from) && Date.parse(one.to) === Date.parse(other.to);

const countIntervals = (part: unknown): number => partWithIntervals.safeParse(part).data?.intervals.length ?? 0;
const partWithIntervals = z.object({ intervals: z.array(z.unknown()) });

/** Whole, or not at all: of long bodies only the beginning was kept once. */
function wholeBody({ body = '', bytes, sha256 }: ReturnType<typeof findingDetail.read>): string {
  if (createHash('sha256').update(body).digest('hex') === sha256) return body;
  throw wrongWay(`Only the beginning of its ${bytes ?? 0} bytes was kept. Have the source send it under a new id.`);
}

const wrongWay = (detail: string): AppError => new AppError('request.conflict', { detail });

/** Which deliveries contradict each other, in an order of its own. */
const sidesOf = (row: FindingRow): string =>
  [...new Set(toFinding(row).contenders.map((one) => `${one.sourceId} ${one.webhookId}`))].sort().join('\n');
