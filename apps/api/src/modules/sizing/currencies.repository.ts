import { Injectable } from '@nestjs/common';
import { Db } from '../../platform/db/index.js';
import { sizingInputEnds } from './sizing-document.js';

/** Whether sizing records still hold what a proof would read today. */
@Injectable()
export class CurrenciesRepository {
  constructor(private readonly db: Db) {}

  /** Stale records of circuits. */
  async listStale(circuitIds: readonly string[]): Promise<{ id: string; circuitId: string; basis: string }[]> {
    return this.db.tx.$queryRaw`
      SELECT r.id, r.circuit_id AS "circuitId", r.basis
      FROM sizing_currencies s
      JOIN sizing_records r ON r.organisation_id = s.organisation_id AND r.id = s.sizing_record_id
      WHERE s.organisation_id = ${this.db.actor.organisationId}::uuid AND s.circuit_id = ANY (${circuitIds}::uuid[])
        AND s.currency = 'stale'
      ORDER BY r.id`;
  }

  /** Of stale records, those that were made from what is read today are current again. Their text is canonical: it need not be parsed. */
  async restore(records: readonly { id: string; input: string }[]): Promise<void> {
    const { before, after } = sizingInputEnds;
    await this.db.tx.$executeRaw`
      UPDATE sizing_currencies s SET currency = 'current', reasons = '[]', changed_at = now()
      FROM jsonb_to_recordset(${JSON.stringify(records)}::jsonb) AS t (id uuid, input text)
      JOIN sizing_records r ON r.organisation_id = ${this.db.actor.organisationId}::uuid AND r.id = t.id
      WHERE s.organisation_id = r.organisation_id AND s.sizing_record_id = r.id AND s.currency = 'stale'
        AND strpos(r.canonical_text, ${before} || t.input || ${after}) > 0`;
  }
}
