import { Injectable } from '@nestjs/common';
import { CALCULATION_VERSION } from '@repo/calc';
import {
  toPressureLadder,
  sizingRecordSummarySchema,
  type InputOf,
  type Replay,
  type routes,
  type SizingRecord,
  type SizingRecordSummary,
} from '@repo/contracts';
import { Audit } from '../../platform/audit/audit.js';
import { notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { groupBy } from '../../platform/group-by.js';
import { AuditSubjectsService } from '../audit/index.js';
import { CircuitProofsService } from './circuit-proofs.service.js';
import { ProofsService } from './proofs.service.js';
import { differencesOf, hashOf, RUNTIME_VERSION, toCanonicalText, toProofs, toReplayed } from './sizing-document.js';
import { SizingRecordsRepository, type SizingRow } from './sizing-records.repository.js';
import { sizingDocument, staleReasons, type StoredDocument } from './stored-sizing.js';

type Sizing = typeof routes.sizingRecords;
const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex');

const { basis: basisSchema, status: statusSchema, currency: currencySchema } = sizingRecordSummarySchema.shape;
const called = (row: SizingRow): string => `sizing record ${row.number}`;

const toSummary = (row: SizingRow, reasons: SizingRecordSummary['staleReasons']): SizingRecordSummary => ({
  id: row.id,
  number: row.number,
  circuitId: row.circuit_id,
  circuitName: row.circuit_name,
  machineId: row.machine_id,
  machineName: row.machine_name,
  basis: basisSchema.parse(row.basis),
  status: statusSchema.parse(row.status),
  currency: currencySchema.parse(row.currency),
  staleReasons: reasons,
  sha256: hex(row.sha256),
  calculationVersion: row.calculation_version,
  runtimeVersion: row.runtime_version,
  note: row.note,
  createdAt: row.created_at.toISOString(),
  createdByName: row.created_by_name,
});

/** Sizing records: made once, never changed, and computed again to the last digit whenever somebody asks. */
@Injectable()
export class SizingRecordsService {
  constructor(
    private readonly repository: SizingRecordsRepository,
    private readonly circuitProofs: CircuitProofsService,
    private readonly proofs: ProofsService,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
    private readonly subjects: AuditSubjectsService,
  ) {}

  async list(query: InputOf<Sizing['list']>['query']) {
    const after = this.cursors.read('sizing-records', query.cursor, 1);
    const rows = await this.repository.list(
      { circuitId: query.circuitId, machineId: query.machineId },
      after,
      query.limit,
    );
    const page = this.cursors.page('sizing-records', rows, query.limit, (row) => [row.number]);
    // A list goes on without reasons that cannot be read; the page of that record says so.
    const reasons = page.rows.flatMap((row) =>
      (staleReasons.readOrNull(row.reasons) ?? []).map((reason) => ({ ...reason, recordId: row.id })),
    );
    const named = groupBy(await this.subjects.nameAll(reasons), ({ recordId }) => recordId);
    const items = page.rows.map((row) => toSummary(row, named.get(row.id) ?? []));
    return { items, nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<SizingRecord> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    const { input, ...document } = sizingDocument.readText(row.canonical_text, called(row));
    return {
      ...toSummary(row, await this.subjects.nameAll(staleReasons.read(row.reasons, called(row)))),
      document: { ...document, input: { ...input } },
      canonicalText: row.canonical_text,
    };
  }

  async create(body: InputOf<Sizing['create']>['body']): Promise<SizingRecord> {
    const asOn = new Date();
    const [ladder] = await this.circuitProofs.compute([body.circuitId], body.basis);
    if (ladder === undefined) throw notFound();
    const { place, facts, result, dependencies } = ladder;
    const document: StoredDocument = {
      format: 'kedge-sizing/4',
      calculationVersion: CALCULATION_VERSION,
      runtimeVersion: RUNTIME_VERSION,
      circuit: {
        id: place.circuitId,
        name: place.circuitName,
        machineId: place.machineId,
        machineName: place.machineName,
      },
      basis: body.basis,
      asOn: asOn.toISOString(),
      input: facts,
      result: toPressureLadder(result),
    };
    const canonicalText = toCanonicalText(document);
    const number = await this.repository.nextNumber('sizing-record');
    await this.repository.insert(
      {
        id: body.id,
        customerId: place.customerId,
        circuitId: place.circuitId,
        number,
        basis: body.basis,
        status: result.status,
        canonicalText,
        sha256: hashOf(canonicalText),
        calculationVersion: CALCULATION_VERSION,
        runtimeVersion: RUNTIME_VERSION,
        note: body.note,
      },
      dependencies,
    );
    await this.audit.record({
      action: 'create',
      entity: 'sizing-record',
      entityId: body.id,
      customerId: place.customerId,
      changes: { number, basis: body.basis, status: result.status, sha256: hex(hashOf(canonicalText)) },
    });
    return this.get(body.id);
  }

  async replay(id: string): Promise<Replay> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    const recorded = sizingDocument.readText(row.canonical_text, called(row));
    const [result] = await this.proofs.prove(toProofs(recorded));
    if (result === undefined) throw new Error('a sizing record gave no proof');
    const text = toCanonicalText(toReplayed(recorded, result));
    return {
      same: text === row.canonical_text,
      sha256: hex(hashOf(text)),
      recordedSha256: hex(row.sha256),
      calculationVersion: CALCULATION_VERSION,
      recordedCalculationVersion: recorded.calculationVersion,
      differences: differencesOf(recorded, JSON.parse(text)).slice(0, 200),
    };
  }
}
