import { Injectable } from '@nestjs/common';
import { SourceSecrets } from '../sources/index.js';
import { SourceKeysRepository } from './source-keys.repository.js';

export interface KeysOfSource {
  readonly organisationId: string;
  readonly isArchived: boolean;
  readonly secrets: readonly { readonly key: Buffer; readonly expiresAtMs: number }[];
}

interface Kept {
  readonly readAtMs: number;
  readonly keys: Promise<KeysOfSource | null>;
}

/** A secret that was taken away works so long at most. */
const KEPT_MS = 3_000;
const MOST_KEPT = 10_000;

/** Which secrets a source may sign with, kept for a moment; whoever needs what is newest says so. */
@Injectable()
export class SourceKeys {
  private readonly kept = new Map<string, Kept>();

  constructor(
    private readonly repository: SourceKeysRepository,
    private readonly secrets: SourceSecrets,
  ) {}

  /**
   * null when there is no such source
   * @param readAfterMs what was read before that moment is read anew (`performance.now()`)
   */
  find(sourceId: string, readAfterMs: number): Promise<KeysOfSource | null> {
    const now = performance.now();
    const kept = this.kept.get(sourceId);
    if (kept !== undefined && now - kept.readAtMs < KEPT_MS && kept.readAtMs >= readAfterMs) return kept.keys;
    if (this.kept.size >= MOST_KEPT) this.kept.clear();
    const keys = this.read(sourceId);
    this.kept.set(sourceId, { readAtMs: now, keys });
    // A failure is not kept: the next delivery tries again.
    keys.catch(() => {
      if (this.kept.get(sourceId)?.keys === keys) this.kept.delete(sourceId);
    });
    return keys;
  }

  private async read(sourceId: string): Promise<KeysOfSource | null> {
    const rows = await this.repository.list(sourceId);
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
