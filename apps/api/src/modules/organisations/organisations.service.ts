import { Injectable } from '@nestjs/common';
import type { InputOf, routes } from '@repo/contracts';
import { marginsAsked } from '../../documents/asked-of-circuits.js';
import { AppError } from '../../platform/errors/app-error.js';
import { assertVersion } from '../../platform/http/etag.js';
import { ConsequencesService, dependOn } from '../sizing/index.js';
import { OrganisationsRepository } from './organisations.repository.js';

@Injectable()
export class OrganisationsService {
  constructor(
    private readonly repository: OrganisationsRepository,
    private readonly consequences: ConsequencesService,
  ) {}

  async get() {
    const row = await this.repository.get();
    return { ...row, marginsAsked: marginsAsked.read(row.marginsAsked, row.name) };
  }

  async update(version: number, body: InputOf<(typeof routes.organisations)['update']>['body']) {
    const before = await this.get();
    assertVersion(before.version, version);
    if (!(await this.repository.updateMargins(version, body.marginsAsked, body.leastProbability ?? null)))
      throw new AppError('request.stale');
    await this.consequences.of(
      { action: 'update', entity: 'organisation', entityId: before.id, changes: { ...body }, before },
      dependOn('margins-asked', before.id),
    );
    return this.get();
  }
}
