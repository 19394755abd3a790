import { Injectable } from '@nestjs/common';
import { Db } from '../../platform/db/index.js';

@Injectable()
export class SignInPoliciesRepository {
  constructor(private readonly db: Db) {}

  /** null as long as the organisation has asked for nothing. */
  find() {
    return this.db.tx.signInPolicy.findUnique({
      where: { organisationId: this.db.actor.organisationId },
      select: { demandsSecondFactor: true, version: true },
    });
  }

  /** `version` 0 is that of a policy that nobody has written yet. */
  async write(version: number, demandsSecondFactor: boolean): Promise<boolean> {
    const count = await this.db.tx.$executeRaw`
      INSERT INTO sign_in_policies AS p (organisation_id, demands_second_factor)
      SELECT ${this.db.actor.organisationId}::uuid, ${demandsSecondFactor}
      WHERE ${version} = 0 OR EXISTS (SELECT 1 FROM sign_in_policies WHERE organisation_id = ${this.db.actor.organisationId}::uuid)
      ON CONFLICT (organisation_id) DO UPDATE
        SET demands_second_factor = EXCLUDED.demands_second_factor, version = p.version + 1 WHERE p.version = ${version}`;
    return count === 1;
  }
}
