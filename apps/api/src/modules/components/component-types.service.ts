import { Injectable } from '@nestjs/common';
import {
  checkFigures,
  componentKindSchema,
  type AffectedCircuit,
  type ComponentType,
  type InputOf,
  type routes,
} from '@repo/contracts';
import { componentFigures } from '../../documents/component-figures.js';
import { readable } from '../../platform/documents/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { ConsequencesService, dependOn } from '../sizing/index.js';
import { ComponentTypesRepository, type AffectedRow, type ComponentTypeRow } from './component-types.repository.js';
import { fromStoredFigures, toStoredFigures } from './stored-figures.js';

type Types = typeof routes.componentTypes;

const toComponentType = (row: ComponentTypeRow): ComponentType => ({
  id: row.id,
  kind: componentKindSchema.parse(row.kind),
  name: row.name,
  partNumber: row.partNumber,
  figures: fromStoredFigures(row.figures, row.name),
  note: row.note,
  revision: row.revision,
  createdAt: row.createdAt.toISOString(),
  archivedAt: isoOrNull(row.archivedAt),
  version: row.version,
});

const toAffected = (row: AffectedRow): AffectedCircuit => ({
  circuitId: row.circuit_id,
  circuitName: row.circuit_name,
  machineId: row.machine_id,
  machineName: row.machine_name,
  customerId: row.customer_id,
  customerName: row.customer_name,
  place: row.place,
  designation: row.designation,
  lot: row.lot,
  serial: row.serial,
  validFrom: row.valid_from.toISOString(),
  validTo: isoOrNull(row.valid_to),
  disposition: row.disposition,
  status: row.status,
});

@Injectable()
export class ComponentTypesService {
  constructor(
    private readonly repository: ComponentTypesRepository,
    private readonly consequences: ConsequencesService,
    private readonly cursors: Cursors,
  ) {}

  async list(query: InputOf<Types['list']>['query']) {
    const after = this.cursors.read('component-types', query.cursor, 2);
    const rows = await this.repository.list({ kind: query.kind, search: query.search }, after, query.limit);
    const page = this.cursors.page('component-types', rows, query.limit, (row) => [row.name, row.id]);
    return { ...readable(page.rows, toComponentType), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<ComponentType> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return toComponentType(row);
  }

  async create(body: InputOf<Types['create']>['body']): Promise<ComponentType> {
    await this.repository.insert({ ...body, figures: toStoredFigures(body.figures, body.kind) });
    await this.consequences.of(
      { action: 'create', entity: 'component-type', entityId: body.id, changes: body },
      dependOn('component-type', body.id),
    );
    return this.get(body.id);
  }

  /** A change of name or figures is a new revision; the ones before stay readable. */
  async update(id: string, version: number, body: InputOf<Types['update']>['body']): Promise<ComponentType> {
    const before = await this.repository.find(id);
    if (before === null) throw notFound();
    assertVersion(before.version, version);
    const kind = componentKindSchema.parse(before.kind);
    if (body.figures !== undefined) {
      checkFigures(body.figures, kind, ({ path, message }) => {
        throw invalidField(path.join('.'), body.figures?.[String(path[1])], message, 'figure');
      });
    }
    const figures = body.figures === undefined ? undefined : toStoredFigures(body.figures, kind);
    const isRevised = figures !== undefined || (body.name !== undefined && body.name !== before.name);
    const revision = isRevised ? before.revision + 1 : undefined;
    const { name, partNumber, note, archived } = body;
    if (!(await this.repository.update(id, version, { name, partNumber, note, archived, figures, revision }))) {
      throw new AppError('request.stale');
    }
    if (revision !== undefined) {
      const stored = figures ?? componentFigures.read(before.figures, before.name);
      await this.repository.insertRevision(id, revision, name ?? before.name, stored, body.reason);
    }
    await this.consequences.of(
      { action: 'update', entity: 'component-type', entityId: id, changes: body, before: toComponentType(before) },
      // No proof reads its note, its part number, or whether it is offered.
      isRevised ? dependOn('component-type', id) : [],
    );
    return this.get(id);
  }

  async listAffected(id: string, query: InputOf<Types['affected']>['query']) {
    await this.get(id);
    return this.whereFitted(`affected ${id}`, { componentTypeId: id }, query);
  }

  listByLot(query: { lot: string; cursor?: string | undefined; limit: number }) {
    return this.whereFitted(`lot ${query.lot}`, { lot: query.lot }, query);
  }

  async listRevisions(id: string) {
    await this.get(id);
    const rows = await this.repository.listRevisions(id);
    return {
      items: rows.map((row) => ({
        revision: row.revision,
        name: row.name,
        figures: fromStoredFigures(row.figures, row.name),
        reason: row.reason,
        recordedAt: row.recordedAt.toISOString(),
      })),
    };
  }

  private async whereFitted(
    list: string,
    what: { componentTypeId: string } | { lot: string },
    query: { cursor?: string | undefined; limit: number },
  ) {
    const after = this.cursors.read(list, query.cursor, 2);
    const rows = await this.repository.listWhereFitted(what, after, query.limit);
    const page = this.cursors.page(list, rows, query.limit, (row) => [row.id, row.circuit_id]);
    return { items: page.rows.map(toAffected), nextCursor: page.nextCursor };
  }
}
