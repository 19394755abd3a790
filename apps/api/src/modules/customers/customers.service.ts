import { Injectable } from '@nestjs/common';
import type { Customer, InputOf, routes } from '@repo/contracts';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { ConsequencesService, dependOn } from '../sizing/index.js';
import { CustomersRepository, type CustomerRow } from './customers.repository.js';

type Customers = typeof routes.customers;

const toCustomer = (row: CustomerRow): Customer => ({
  id: row.id,
  name: row.name,
  trade: row.trade,
  contactName: row.contactName,
  contactEmail: row.contactEmail,
  contactPhone: row.contactPhone,
  note: row.note,
  createdAt: row.createdAt.toISOString(),
  archivedAt: row.archivedAt?.toISOString() ?? null,
  version: row.version,
  circuits: Object.fromEntries(row.standingCountsByCustomerId.map((one) => [one.status, one.circuits])),
});

@Injectable()
export class CustomersService {
  constructor(
    private readonly repository: CustomersRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Customers['list']>['query']) {
    const after = this.cursors.read('customers', query.cursor, 2);
    const rows = await this.repository.list(after, query.limit, query.archived === 'true');
    const page = this.cursors.page('customers', rows, query.limit, (row) => [row.name, row.id]);
    return { items: page.rows.map(toCustomer), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Customer> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toCustomer(row);
  }

  async create(body: InputOf<Customers['create']>['body']): Promise<Customer> {
    await this.repository.insert(body);
    await this.consequences.of(
      {
        action: 'create',
        entity: 'customer',
        entityId: body.id,
        customerId: body.id,
        changes: body,
      },
      dependOn('customer', body.id),
    );
    return this.get(body.id);
  }

  async update(id: string, version: number, body: InputOf<Customers['update']>['body']): Promise<Customer> {
    const before = await this.get(id);
    assertVersion(before.version, version);
    const { archived, ...fields } = body;
    const archivedAt = archived === undefined ? {} : { archivedAt: archived ? new Date() : null };
    if (!(await this.repository.update(id, version, { ...fields, ...archivedAt }))) throw new AppError('request.stale');
    await this.consequences.of(
      {
        action: 'update',
        entity: 'customer',
        entityId: id,
        customerId: id,
        changes: body,
        before,
      },
      dependOn('customer', id),
    );
    return this.get(id);
  }
}
