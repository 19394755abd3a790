import { Injectable } from '@nestjs/common';
import { Db } from '../../platform/db/index.js';

export type ProviderRow = NonNullable<Awaited<ReturnType<IdentityProvidersRepository['find']>>>;

@Injectable()
export class IdentityProvidersRepository {
  constructor(private readonly db: Db) {}

  find(id: string) {
    return this.db.tx.identityProvider.findUnique({
      where: { organisationId_id: { organisationId: this.db.actor.organisationId, id } },
    });
  }

  listLive() {
    return this.db.tx.identityProvider.findMany({
      where: { organisationId: this.db.actor.organisationId, archivedAt: null },
      orderBy: { createdAt: 'asc' },
    });
  }

  async insert(provider: {
    id: string;
    name: string;
    issuer: string;
    clientId: string;
    clientSecretSealed: Uint8Array<ArrayBuffer>;
  }): Promise<void> {
    await this.db.tx.identityProvider.create({
      data: { organisationId: this.db.actor.organisationId, ...provider },
    });
  }

  async update(
    id: string,
    version: number,
    data: { name?: string; clientId?: string; clientSecretSealed?: Uint8Array<ArrayBuffer>; archivedAt?: Date },
  ): Promise<boolean> {
    const { count } = await this.db.tx.identityProvider.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    return count === 1;
  }
}
