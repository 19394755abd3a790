import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { Db } from '../db/db.js';
import { json } from '../db/json.js';

/** Asks for work in the background, in the transaction of the request: rolled back with it, visible with it. */
@Injectable()
export class JobQueue {
  constructor(private readonly db: Db) {}

  /**
   * Writes the job; a trigger of the database enqueues it. The id of the job.
   * @param isShort done within moments, whatever it holds: it never waits for those that may take long
   */
  async start(kind: string, parameters: Record<string, unknown>, isShort = false): Promise<string> {
    const { tx, actor } = this.db.current;
    const id = uuidv7();
    await tx.job.create({
      data: {
        organisationId: actor.organisationId,
        id,
        kind,
        parameters: json(parameters),
        isShort,
        requestedBy: actor.membershipId,
      },
    });
    return id;
  }
}
