import { Injectable } from '@nestjs/common';
import type { Notice, NoticeKind } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { Gate } from '../../platform/db/index.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { noticeDetails } from './notice-details.js';

interface NoticeRow {
  id: string;
  kind: NoticeKind;
  details: unknown;
  created_at: Date;
  seen_at: Date | null;
}

@Injectable()
export class NoticesRepository {
  constructor(private readonly gate: Gate) {}

  async insert(userId: string, kind: NoticeKind, details: Record<string, string>): Promise<void> {
    await this.gate.query('INSERT INTO notices (id, user_id, kind, details) VALUES ($1, $2, $3, $4)', [
      uuidv7(),
      userId,
      kind,
      JSON.stringify(noticeDetails.write(details)),
    ]);
  }

  async wasToldWithinTheHour(userId: string, kind: NoticeKind): Promise<boolean> {
    const result = await this.gate.query(
      `SELECT 1 FROM notices WHERE user_id = $1 AND kind = $2 AND created_at > now() - interval '1 hour' LIMIT 1`,
      [userId, kind],
    );
    return result.length > 0;
  }

  async list(userId: string, before: readonly (string | number)[] | null, limit: number): Promise<Notice[]> {
    const rows = await this.gate.query<NoticeRow>(
      `SELECT id, kind, details, created_at, seen_at FROM notices
       WHERE user_id = $1 AND ($2::timestamptz IS NULL OR (created_at, id) < ($2, $3::uuid))
       ORDER BY created_at DESC, id DESC LIMIT $4`,
      [userId, before?.[0] ?? null, before?.[1] ?? null, limit],
    );
    return rows.map(({ id, kind, details, created_at, seen_at }) => ({
      id,
      kind,
      details: noticeDetails.readOrNull(details) ?? {},
      createdAt: created_at.toISOString(),
      seenAt: isoOrNull(seen_at),
    }));
  }

  async countUnseen(userId: string): Promise<number> {
    const [row] = await this.gate.query<{ unseen: number }>(
      'SELECT count(*)::int AS unseen FROM notices WHERE user_id = $1 AND seen_at IS NULL',
      [userId],
    );
    return row?.unseen ?? 0;
  }

  async see(userId: string): Promise<void> {
    await this.gate.query('UPDATE notices SET seen_at = now() WHERE user_id = $1 AND seen_at IS NULL', [userId]);
  }
}
