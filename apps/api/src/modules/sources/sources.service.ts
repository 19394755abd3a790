import { Injectable } from '@nestjs/common';
import type { Delivery, InputOf, routes, Source, SourceDetail, SourceMachine, SourceSecret } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { Audit } from '../../platform/audit/audit.js';
import type { Actor } from '../../platform/auth/actor.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { SourceSecrets } from './source-secrets.js';
import { SourcesRepository, type MappingRow, type SecretRow, type SourceRow } from './sources.repository.js';

type Sources = typeof routes.sources;

const toSource = (row: SourceRow): Source => ({
  id: row.id,
  name: row.name,
  lastHeardAt: isoOrNull(row.last_heard_at),
  clockOffsetS: row.clock_offset_s,
  silentAfterS: row.silent_after_s,
  isSilent: row.archived_at === null && row.is_silent,
  machineCount: row.machine_count,
  openFindings: row.open_findings,
  createdAt: row.created_at.toISOString(),
  archivedAt: isoOrNull(row.archived_at),
  version: row.version,
});

const toSecret = (row: SecretRow): SourceSecret => ({
  id: row.id,
  createdAt: row.createdAt.toISOString(),
  expiresAt: isoOrNull(row.expiresAt),
  isLive: row.expiresAt === null || row.expiresAt > new Date(),
});

const toMapping = (row: MappingRow): SourceMachine => ({
  id: row.id,
  sourceId: row.sourceId,
  externalReference: row.externalReference,
  machineId: row.machineId,
  machineName: row.machine.name,
  customerName: row.customer.name,
  createdAt: row.createdAt.toISOString(),
});

@Injectable()
export class SourcesService {
  constructor(
    private readonly repository: SourcesRepository,
    private readonly secrets: SourceSecrets,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
  ) {}

  async list(query: InputOf<Sources['list']>['query']) {
    const after = this.cursors.read('sources', query.cursor, 2);
    const rows = await this.repository.list(after, query.limit, query.archived === 'true');
    const page = this.cursors.page('sources', rows, query.limit, (row) => [row.name, row.id]);
    return { items: page.rows.map(toSource), nextCursor: page.nextCursor };
  }

  async get(id: string, actor: Actor): Promise<SourceDetail> {
    const row = await this.find(id);
    const secrets = actor.role === 'administrator' ? await this.repository.listSecrets(id) : [];
    const gaps = await this.repository.listGaps(id, row.silent_after_s);
    return {
      ...toSource(row),
      secrets: secrets.map(toSecret),
      gaps: gaps.map((gap) => ({ from: gap.from_at.toISOString(), to: isoOrNull(gap.to_at) })),
    };
  }

  async create(body: InputOf<Sources['create']>['body'], actor: Actor) {
    await this.repository.insert(body);
    const secret = await this.addSecret(body.id);
    await this.record('create', body.id, { name: body.name });
    return { ...(await this.get(body.id, actor)), secret };
  }

  async update(id: string, version: number, body: InputOf<Sources['update']>['body'], actor: Actor) {
    const before = await this.find(id);
    assertVersion(before.version, version);
    const { archived, name, silentAfterS } = body;
    const changed = await this.repository.update(id, version, {
      ...(name === undefined ? {} : { name }),
      ...(silentAfterS === undefined ? {} : { silentAfterS }),
      ...(archived === undefined ? {} : { archivedAt: archived ? new Date() : null }),
    });
    if (!changed) throw new AppError('request.stale');
    const edited = { action: 'update', entity: 'source', entityId: id, changes: { ...body }, before: toSource(before) };
    await this.audit.record(edited);
    return this.get(id, actor);
  }

  /** A new secret; those before go on for the overlap, so that a gateway changes over without losing a delivery. */
  async rotateSecret(id: string, overlapHours: number, actor: Actor) {
    const row = await this.find(id);
    if (row.archived_at !== null) throw new AppError('request.conflict', { detail: 'The source is archived.' });
    await this.repository.expireSecrets(id, new Date(Date.now() + overlapHours * 3_600_000));
    const secret = await this.addSecret(id);
    await this.record('rotate-secret', id, { overlapHours });
    return { ...(await this.get(id, actor)), secret };
  }

  async listMachines(id: string, query: InputOf<Sources['listMachines']>['query']) {
    await this.find(id);
    const list = `source-machines ${id}`;
    const rows = await this.repository.listMappings(id, this.cursors.read(list, query.cursor, 1), query.limit);
    const page = this.cursors.page(list, rows, query.limit, (row) => [row.externalReference]);
    return { items: page.rows.map(toMapping), nextCursor: page.nextCursor };
  }

  async addMachine(sourceId: string, body: InputOf<Sources['addMachine']>['body']): Promise<SourceMachine> {
    await this.find(sourceId);
    const machine = await this.repository.findMachine(body.machineId);
    if (machine === null) throw notFound();
    const { customerId } = machine;
    await this.repository.insertMapping({ ...body, sourceId, customerId });
    await this.record('map-machine', sourceId, { ...body }, customerId);
    return toMapping(await this.findMapping(body.id));
  }

  async removeMachine(id: string): Promise<void> {
    const { sourceId, customerId, externalReference, machineId } = await this.findMapping(id);
    await this.repository.removeMapping(id);
    await this.record('unmap-machine', sourceId, { externalReference, machineId }, customerId);
  }

  async listDeliveries(id: string, query: InputOf<Sources['listDeliveries']>['query']) {
    await this.find(id);
    const list = `deliveries ${id}`;
    const rows = await this.repository.listDeliveries(id, this.cursors.read(list, query.cursor, 2), query.limit);
    const page = this.cursors.page(list, rows, query.limit, (row) => [row.receivedAt.toISOString(), row.id]);
    const items = page.rows.map((row): Delivery => ({
      id: row.id,
      webhookId: row.webhookId,
      receivedAt: row.receivedAt.toISOString(),
      sentAt: isoOrNull(row.sentAt),
      state: row.setAside === 0 ? 'taken-in' : 'in-part',
      intervals: row.intervals,
      setAside: row.setAside,
    }));
    return { items, nextCursor: page.nextCursor };
  }

  private async find(id: string): Promise<SourceRow> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return row;
  }

  private async findMapping(id: string): Promise<MappingRow> {
    const row = await this.repository.findMapping(id);
    if (row === null) throw notFound();
    return row;
  }

  private async addSecret(sourceId: string): Promise<string> {
    const secret = this.secrets.make();
    const secretSealed = new Uint8Array(this.secrets.seal(sourceId, secret));
    await this.repository.insertSecret({ id: uuidv7(), sourceId, secretSealed });
    return secret;
  }

  private record(
    action: string,
    entityId: string,
    changes: Record<string, unknown>,
    customerId: string | null = null,
  ): Promise<void> {
    return this.audit.record({ action, entity: 'source', entityId, customerId, changes });
  }
}
