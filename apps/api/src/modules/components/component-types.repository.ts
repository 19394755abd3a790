import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { Db, everyWord, json, Prisma } from '../../platform/db/index.js';
import type { StoredFigures } from '../../documents/component-figures.js';

export interface AffectedRow {
  id: string;
  circuit_id: string;
  circuit_name: string;
  machine_id: string;
  machine_name: string;
  customer_id: string;
  customer_name: string;
  place: string;
  designation: string;
  lot: string;
  serial: string;
  valid_from: Date;
  valid_to: Date | null;
  disposition: string;
  status: string | null;
}

@Injectable()
export class ComponentTypesRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  find(id: string) {
    return this.db.tx.componentType.findUnique({
      where: { organisationId_id: { organisationId: this.organisationId, id } },
    });
  }

  list(
    filter: { kind: string | undefined; search: string | undefined },
    after: readonly (string | number)[] | null,
    limit: number,
  ) {
    const [name, id] = after ?? [];
    return this.db.tx.componentType.findMany({
      where: {
        organisationId: this.organisationId,
        archivedAt: null,
        ...(filter.kind === undefined ? {} : { kind: filter.kind }),
        AND: [
          ...everyWord(filter.search, (holds) => [{ name: holds }, { partNumber: holds }]),
          after === null
            ? {}
            : { OR: [{ name: { gt: String(name) } }, { name: String(name), id: { gt: String(id) } }] },
        ],
      },
      orderBy: [{ name: 'asc' }, { id: 'asc' }],
      take: limit + 1,
    });
  }

  async insert(data: {
    id: string;
    kind: string;
    name: string;
    partNumber: string;
    note: string;
    figures: StoredFigures;
  }): Promise<void> {
    await this.db.tx.componentType.create({
      data: { ...data, organisationId: this.organisationId, figures: json(data.figures) },
    });
    await this.insertRevision(data.id, 1, data.name, data.figures, 'first entry');
  }

  async insertRevision(
    id: string,
    revision: number,
    name: string,
    figures: StoredFigures,
    reason: string,
  ): Promise<void> {
    await this.db.tx.componentTypeRevision.create({
      data: {
        organisationId: this.organisationId,
        id: uuidv7(),
        componentTypeId: id,
        revision,
        name,
        figures: json(figures),
        reason,
        recordedBy: this.db.actor.membershipId,
      },
    });
  }

  async update(
    id: string,
    version: number,
    change: {
      name?: string | undefined;
      partNumber?: string | undefined;
      note?: string | undefined;
      figures?: StoredFigures | undefined;
      archived?: boolean | undefined;
      revision?: number | undefined;
    },
  ): Promise<boolean> {
    const { name, partNumber, note, figures, archived, revision } = change;
    const { count } = await this.db.tx.componentType.updateMany({
      where: { organisationId: this.organisationId, id, version },
      data: {
        ...(name === undefined ? {} : { name }),
        ...(partNumber === undefined ? {} : { partNumber }),
        ...(note === undefined ? {} : { note }),
        ...(figures === undefined ? {} : { figures: json(figures) }),
        ...(archived === undefined ? {} : { archivedAt: archived ? new Date() : null }),
        ...(revision === undefined ? {} : { revision }),
        version: { increment: 1 },
      },
    });
    return count === 1;
  }

  listRevisions(id: string) {
    return this.db.tx.componentTypeRevision.findMany({
      where: { organisationId: this.organisationId, componentTypeId: id },
      orderBy: { revision: 'desc' },
      take: 200,
    });
  }

  /** Where components of a type, or of a lot, are and were: one row per circuit that they serve, newest first. */
  listWhereFitted(
    what: { componentTypeId: string } | { lot: string },
    after: readonly (string | number)[] | null,
    limit: number,
  ): Promise<AffectedRow[]> {
    const o = this.organisationId;
    const which =
      'lot' in what ? Prisma.sql`i.lot = ${what.lot}` : Prisma.sql`i.component_type_id = ${what.componentTypeId}::uuid`;
    const beyond =
      after === null
        ? Prisma.sql`true`
        : Prisma.sql`(i.id, c.id) < (${String(after[0])}::uuid, ${String(after[1])}::uuid)`;
    return this.db.tx.$queryRaw<AffectedRow[]>`
      SELECT i.id, c.id AS circuit_id, c.name AS circuit_name, m.id AS machine_id, m.name AS machine_name,
             k.id AS customer_id, k.name AS customer_name, t.place, i.designation, i.lot, i.serial, i.valid_from, i.valid_to,
             m.disposition, s.status
      FROM installed_components i
      JOIN circuits c ON c.organisation_id = i.organisation_id AND (c.id = i.circuit_id OR (i.circuit_id IS NULL AND c.power_unit_id = i.power_unit_id))
      JOIN machines m ON m.organisation_id = i.organisation_id AND m.id = i.machine_id
      JOIN customers k ON k.organisation_id = i.organisation_id AND k.id = i.customer_id
      JOIN sites t ON t.organisation_id = m.organisation_id AND t.id = m.site_id
      LEFT JOIN circuit_standings s ON s.organisation_id = c.organisation_id AND s.circuit_id = c.id
      WHERE i.organisation_id = ${o}::uuid AND ${which} AND ${beyond}
      ORDER BY i.id DESC, c.id DESC LIMIT ${limit + 1}`;
  }
}
export type ComponentTypeRow = NonNullable<Awaited<ReturnType<ComponentTypesRepository['find']>>>;
