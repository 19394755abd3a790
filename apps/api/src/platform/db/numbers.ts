import { Injectable } from '@nestjs/common';
import { Db } from './db.js';

/** Human numbers per organisation and noun, without gaps: what is rolled back is given again, and two makers wait in line. */
@Injectable()
export class Numbers {
  constructor(private readonly db: Db) {}

  async next(noun: string): Promise<number> {
    const { tx, actor } = this.db.current;
    const [row] = await tx.$queryRaw<{ last_number: number }[]>`
      INSERT INTO number_counters (organisation_id, noun, last_number) VALUES (${actor.organisationId}::uuid, ${noun}, 1)
      ON CONFLICT (organisation_id, noun) DO UPDATE SET last_number = number_counters.last_number + 1
      RETURNING last_number`;
    if (row === undefined) throw new Error('a counter gave no number');
    return row.last_number;
  }
}
