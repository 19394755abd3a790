import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';

@Injectable()
export class OrganisationsRepository {
  constructor(private readonly db: Db) {}

  get() {
    return this.db.tx.organisation.findUniqueOrThrow({
      where: { id: this.db.actor.organisationId },
      select: { id: true, name: true, marginsAsked: true, leastProbability: true, isInvented: true, version: true },
    });
  }

  /** @param leastProbability null: as it is */
  async updateMargins(
    version: number,
    margins: Record<string, number>,
    leastProbability: number | null,
  ): Promise<boolean> {
    const count = await this.db.tx.$executeRaw(Prisma.sql`
      UPDATE organisations SET margins_asked = ${JSON.stringify(margins)}::jsonb,
        least_probability = coalesce(${leastProbability}::float8, least_probability), version = version + 1
      WHERE id = ${this.db.actor.organisationId}::uuid AND version = ${version}`);
    return count === 1;
  }
}
