import { Injectable } from '@nestjs/common';
import { Gate } from '../../platform/db/index.js';
import { SourceSecrets } from '../sources/index.js';

export interface SourceKeys {
  readonly organisationId: string;
  readonly isArchived: boolean;
  readonly secrets: readonly { readonly key: Buffer; readonly expiresAtMs: number }[];
}

interface Kept {
  readonly readAtMs: number;
  readonly keys: Promise<SourceKeys | null>;
}

interface Row {
  organisation_id: string;
  is_archived: boolean;
  secret_sealed: Buffer | null;
  expires_at: Date | null;
}

/** A secret that was taken away works so long at most. */
const KEPT_MS = 3_000;
const MOST_KEPT = 10_000;

/** Which secrets a source may sign with, read through the gate and kept for a moment. */
@Injectable()
export class SourceKeysRepository {
  private readonly kept = new Map<string, Kept>();

  constructor(
    private readonly gate: Gate,
    private readonly secrets: SourceSecrets,
  ) {}

  /** null when there is no such source */
  find(sourceId: string): Promise<SourceKeys | null> {
    const now = performance.now();
    const kept = this.kept.get(sourceId);
    if (kept !== undefined && now - kept.readAtMs < KEPT_MS) return kept.keys;
    if (this.kept.size >= MOST_KEPT) this.kept.clear();
    const keys = this.read(sourceId);
    this.kept.set(sourceId, { readAtMs: now, keys });
    // A failure is not kept: the next delivery tries again.
    keys.catch(() => this.kept.delete(sourceId));
    return keys;
  }

  private async read(sourceId: string): Promise<SourceKeys | null> {
    const rows = await this.gate.query<Row>(
      `SELECT s.organisation_id, s.archived_at IS NOT NULL AS is_archived, k.secret_sealed, k.expires_at
       FROM sources s
       LEFT JOIN source_secrets k ON k.organisation_id = s.organisation_id AND k.source_id = s.id
         AND (k.expires_at IS NULL OR k.expires_at > now())
       WHERE s.id = $1 ORDER BY k.created_at DESC LIMIT 20`,
      [sourceId],
    );
    const [first] = rows;
    if (first === undefined) return null;
    return {
      organisationId: first.organisation_id,
      isArchived: first.is_archived,
      secrets: rows.flatMap(({ secret_sealed: sealed, expires_at: expiresAt }) =>
        sealed === null
          ? []
          : [{ key: this.secrets.open(sourceId, sealed), expiresAtMs: expiresAt?.getTime() ?? Infinity }],
      ),
    };
  }
}
