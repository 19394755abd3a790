import { Injectable } from '@nestjs/common';
import { Gate } from '../../platform/db/index.js';

export interface SealedKeyRow {
  organisation_id: string;
  is_archived: boolean;
  /** null of a source without a live secret */
  secret_sealed: Buffer | null;
  expires_at: Date | null;
}

/** Live secrets of sources, still sealed, read through the gate. */
@Injectable()
export class SourceKeysRepository {
  constructor(private readonly gate: Gate) {}

  /** nothing when there is no such source */
  list(sourceId: string): Promise<SealedKeyRow[]> {
    return this.gate.query<SealedKeyRow>(
      `SELECT s.organisation_id, s.archived_at IS NOT NULL AS is_archived, k.secret_sealed, k.expires_at
       FROM sources s
       LEFT JOIN source_secrets k ON k.organisation_id = s.organisation_id AND k.source_id = s.id
         AND (k.expires_at IS NULL OR k.expires_at > now())
       WHERE s.id = $1 ORDER BY k.created_at DESC LIMIT 20`,
      [sourceId],
    );
  }
}
