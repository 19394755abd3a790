import { createHmac, timingSafeEqual } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import { ENV, type Env } from '../../config/env.js';
import { AppError } from '../errors/app-error.js';

type Key = readonly (string | number)[];

/** Opaque, signed page cursors over a sort key. A changed cursor, or one of another list, is refused. */
@Injectable()
export class Cursors {
  private readonly secret: string;

  constructor(@Inject(ENV) env: Env) {
    this.secret = env.APP_SECRET;
  }

  write(list: string, key: Key): string {
    const body = Buffer.from(JSON.stringify(key)).toString('base64url');
    return `${body}.${this.sign(list, body)}`;
  }

  /** null without a cursor; throws on one that is not ours. */
  read(list: string, cursor: string | undefined, length: number): Key | null {
    if (cursor === undefined) return null;
    const [body = '', signature = ''] = cursor.split('.');
    const expected = Buffer.from(this.sign(list, body));
    const got = Buffer.from(signature);
    if (expected.length !== got.length || !timingSafeEqual(expected, got)) {
      throw new AppError('request.malformed', { detail: 'The cursor is not one of this list.' });
    }
    const key = JSON.parse(Buffer.from(body, 'base64url').toString('utf8')) as Key;
    if (key.length !== length)
      throw new AppError('request.malformed', { detail: 'The cursor is not one of this list.' });
    return key;
  }

  /** A page from one row more than asked for. */
  page<T>(
    list: string,
    rows: readonly T[],
    limit: number,
    keyOf: (row: T) => Key,
  ): { rows: T[]; nextCursor: string | null } {
    const kept = rows.slice(0, limit);
    const last = kept.at(-1);
    const more = rows.length > limit && last !== undefined;
    return { rows: kept, nextCursor: more ? this.write(list, keyOf(last)) : null };
  }

  private sign(list: string, body: string): string {
    return createHmac('sha256', this.secret).update(`${list}\n${body}`).digest('base64url').slice(0, 32);
  }
}
