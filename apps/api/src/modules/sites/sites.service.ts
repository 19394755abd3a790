import { Injectable } from '@nestjs/common';
import type { InputOf, routes, Site } from '@repo/contracts';
import { readable } from '../../platform/documents/index.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { ConsequencesService, dependOn } from '../sizing/index.js';
import { accessWindows } from './access-windows.js';
import { SitesRepository, type SiteRow } from './sites.repository.js';

type Sites = typeof routes.sites;

const toSite = (row: SiteRow): Site => ({
  id: row.id,
  customerId: row.customerId,
  customerName: row.customer.name,
  name: row.name,
  address: row.address,
  place: row.place,
  country: row.country,
  timeZone: row.timeZone,
  latitude: row.latitude,
  longitude: row.longitude,
  accessWindows: accessWindows.read(row.accessWindows, row.name),
  note: row.note,
  createdAt: row.createdAt.toISOString(),
  archivedAt: row.archivedAt?.toISOString() ?? null,
  version: row.version,
});

@Injectable()
export class SitesService {
  constructor(
    private readonly repository: SitesRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Sites['list']>['query']) {
    const after = this.cursors.read('sites', query.cursor, 1);
    const rows = await this.repository.list({ customerId: query.customerId, search: query.search }, after, query.limit);
    const page = this.cursors.page('sites', rows, query.limit, (row) => [row.id]);
    return { ...readable(page.rows, toSite), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Site> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toSite(row);
  }

  async create(body: InputOf<Sites['create']>['body']): Promise<Site> {
    await this.repository.insert(body);
    await this.consequences.of(
      {
        action: 'create',
        entity: 'site',
        entityId: body.id,
        customerId: body.customerId,
        changes: body,
      },
      dependOn('site', body.id),
    );
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<Sites['update']>['body']): Promise<Site> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    const { archived, ...fields } = body;
    const archivedAt = archived === undefined ? {} : { archivedAt: archived ? new Date() : null };
    if (!(await this.repository.update(id, version, { ...fields, ...archivedAt }))) throw new AppError('request.stale');
    await this.consequences.of(
      {
        action: 'update',
        entity: 'site',
        entityId: id,
        customerId: before.customerId,
        changes: body,
        before,
      },
      dependOn('site', id),
    );
    return this.get(id);
  }
}
