import { Injectable } from '@nestjs/common';
import type { ImportEntity } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import type { Actor } from '../../platform/auth/actor.js';
import { AppError } from '../../platform/errors/app-error.js';
import { groupBy } from '../../platform/group-by.js';
import { lazily } from '../../platform/one-ahead.js';
import { ConsequencesService, type Change } from '../sizing/index.js';
import { hasPeriod, isRevised, type PeriodEntity, type RevisedEntity } from './entity-tables.js';
import {
  ImportWriterRepository,
  toColumns,
  type ColumnValues,
  type ImportAudit,
  type WrittenChange,
} from './import-writer.repository.js';
import { display, idOf, type Rec } from './plan-model.js';
import { resultingOf } from './resulting.js';
import { touchedBy } from './touched-by.js';
import { TypeRevisionsRepository } from './type-revisions.repository.js';
import type { Value } from './read-value.js';

/** Circuits that are computed anew in the same transaction; more are left to a job that is enqueued with it. */
const DIRECTLY = 1_000;

type Tell = (step: string, done: number, total: number) => Promise<void>;

const given = (rec: Rec, field: string): Value | null => rec.values.get(field)?.value ?? null;
const required = (id: string | null, what: string): string => {
  if (id === null) throw new Error(`an import lost the id of its ${what}`);
  return id;
};

function linksOf(rec: Rec): ColumnValues {
  const id = (entity: ImportEntity): string | null => idOf(rec.parents[entity]);
  if (rec.entity === 'component-type') return {};
  const links: ColumnValues = {
    customer_id: required(rec.entity === 'customer' ? rec.id : id('customer'), 'customer'),
  };
  if (rec.entity === 'machine') links.site_id = required(id('site'), 'site');
  if (['station', 'power-unit', 'circuit', 'installed-component', 'm-code', 'signal'].includes(rec.entity)) {
    links.machine_id = required(id('machine'), 'machine');
  }
  if (rec.entity === 'circuit') {
    links.station_id = required(id('station'), 'station');
    links.power_unit_id = required(id('power-unit'), 'power unit');
  }
  if (rec.entity === 'installed-component') {
    links.circuit_id = id('circuit');
    links.power_unit_id = rec.parents.circuit === undefined ? required(id('power-unit'), 'power unit') : null;
    links.component_type_id = rec.typeId ?? id('component-type') ?? rec.existing?.links.type ?? null;
  }
  if (rec.entity === 'm-code') links.station_id = id('station');
  if (rec.entity === 'signal') {
    const component = rec.parents['installed-component'];
    links.circuit_id = id('circuit');
    links.m_code_id = id('m-code');
    // Of one that is exchanged by the same file, the one that comes.
    links.component_id = component?.id ?? rec.componentId;
  }
  if (rec.entity === 'wire') links.signal_id = required(id('signal'), 'signal');
  if (rec.entity === 'fixture-fitting') {
    links.station_id = required(id('station'), 'station');
    links.fixture_id = required(id('fixture'), 'fixture');
  }
  if (isRevised(rec.entity)) links.circuit_id = required(id('circuit'), 'circuit');
  return links;
}

/** What a written record changes for those that stand on it. */
function toChange(rec: Rec): Change {
  const id = required(rec.id ?? idOf(rec), rec.entity);
  const touchedAt = (placeOf: (entity: ImportEntity) => string | null) =>
    touchedBy(rec.entity, {
      id,
      comesOrGoes: rec.existing === null || rec.existing.archived,
      machineId: placeOf('machine'),
      powerUnitId: placeOf('power-unit'),
      circuitId: placeOf('circuit'),
      stationId: placeOf('station'),
    });
  const { existing } = rec;
  return {
    done: { entity: rec.entity, entityId: id, action: 'import' },
    touched: [
      ...touchedAt((entity) => idOf(rec.parents[entity])),
      // A component that is there already may sit elsewhere than the file says.
      ...(existing === null ? [] : touchedAt((entity) => existing.links[entity] ?? null)),
    ],
  };
}

/** Stations of a machine, in the order in which the file names them. */
function inOrder(stations: Iterable<ColumnValues>): Generator<ColumnValues> {
  const next = new Map<unknown, number>();
  return lazily(stations, (row) => {
    const position = next.get(row.machine_id) ?? 0;
    next.set(row.machine_id, position + 1);
    return { ...row, position };
  });
}

/** Writes a plan: set-based, parents first, with what an undo needs, the audit trail and the standings that follow. */
@Injectable()
export class CommitImportService {
  constructor(
    private readonly writer: ImportWriterRepository,
    private readonly typeRevisions: TypeRevisionsRepository,
    private readonly consequences: ConsequencesService,
  ) {}

  async write(importId: string, recs: readonly Rec[], actor: Actor, tell: Tell): Promise<{ circuits: number }> {
    const changes: WrittenChange[] = [];
    let done = 0;
    for (const [entity, group] of groupBy(recs, (rec) => rec.entity)) {
      await tell('writing', done, recs.length);
      for (const rec of group) if (rec.existing === null || rec.isExchange) rec.id = uuidv7();
      changes.push(...(await this.writeEntity(entity, group, actor)));
      done += group.length;
    }
    await tell('recording', recs.length, recs.length);
    await this.writer.insertChanges(importId, changes);
    await this.writer.recordAudit(
      lazily(recs, (rec) => this.toAudit(rec, importId)),
      importId,
    );
    return { circuits: await this.follow(recs.map(toChange), tell) };
  }

  private async writeEntity(entity: ImportEntity, group: readonly Rec[], actor: Actor): Promise<WrittenChange[]> {
    if (hasPeriod(entity)) return this.writePeriods(entity, group, actor);
    if (isRevised(entity)) return this.writeRevisions(entity, group, actor);
    return this.writeArchivable(entity, group);
  }

  private async writeArchivable(entity: ImportEntity, group: readonly Rec[]): Promise<WrittenChange[]> {
    const created = group.filter((rec) => rec.existing === null);
    const changed = group.filter((rec) => rec.existing !== null);
    const rows = lazily(created, (rec) => ({
      ...linksOf(rec),
      id: rec.id,
      ...toColumns(entity, resultingOf(rec), null),
    }));
    if (entity === 'station') await this.writer.insert(entity, inOrder(rows), { position: 'int' });
    else await this.writer.insert(entity, rows);
    if (entity === 'component-type') await this.typeRevisions.insert(group);
    if (entity === 'machine') {
      await this.writer.insertPlacements(
        created.map((rec) => ({
          customerId: required(idOf(rec.parents.customer), 'customer'),
          machineId: required(rec.id, 'machine'),
          siteId: required(idOf(rec.parents.site), 'site'),
        })),
      );
    }
    await this.update(entity, changed);
    return [...created.map((rec) => this.toCreated(rec)), ...changed.map((rec) => this.toChanged(rec))];
  }

  private async update(entity: ImportEntity, changed: readonly Rec[]): Promise<void> {
    const count = await this.writer.update(
      entity,
      changed.map((rec) => ({
        ...toColumns(entity, resultingOf(rec), rec.existing?.derived ?? null),
        id: required(idOf(rec), rec.entity),
        version: rec.existing?.version ?? 0,
        archived: false,
      })),
    );
    if (count !== changed.length) throw new AppError('import.changed');
  }

  private async writePeriods(entity: PeriodEntity, group: readonly Rec[], actor: Actor): Promise<WrittenChange[]> {
    const exchanged = group.filter((rec) => rec.isExchange);
    const created = group.filter((rec) => rec.existing === null || rec.isExchange);
    const changed = group.filter((rec) => rec.existing !== null && !rec.isExchange);
    const ended = await this.writer.setPeriodEnd(
      entity,
      exchanged.map((rec) => ({
        id: rec.existing?.id ?? '',
        version: rec.existing?.version ?? 0,
        validTo: String(given(rec, 'validFrom')),
        reason: 'exchanged',
      })),
    );
    if (ended !== exchanged.length) throw new AppError('import.changed');
    await this.writer.insert(
      entity,
      lazily(created, (rec) => ({
        ...linksOf(rec),
        id: rec.id,
        // Of an exchanged component only what the file says is known of the new one.
        ...toColumns(entity, rec.isExchange ? (field) => given(rec, field) : resultingOf(rec), null),
        recorded_by: actor.membershipId,
      })),
      { recorded_by: 'uuid' },
    );
    await this.update(entity, changed);
    return [
      ...exchanged.map((rec): WrittenChange => ({
        entity,
        entityId: rec.existing?.id ?? '',
        name: rec.label,
        operation: 'ended',
        before: {},
        versionAfter: (rec.existing?.version ?? 0) + 1,
      })),
      ...created.map((rec) => this.toCreated(rec)),
      ...changed.map((rec) => this.toChanged(rec)),
    ];
  }

  private async writeRevisions(entity: RevisedEntity, group: readonly Rec[], actor: Actor): Promise<WrittenChange[]> {
    const circuitIds = group.map((rec) => required(idOf(rec.parents.circuit), 'circuit'));
    const newest = await this.writer.newestRevisions(entity, [...new Set(circuitIds)]);
    const at = group.map((rec, n) => ({ circuitId: circuitIds[n] ?? '', at: String(given(rec, 'measuredAt')) }));
    const fixtures = entity === 'setup-record' ? await this.writer.fittedFixtures(at) : [];
    const revisions: number[] = [];
    for (const [n, rec] of group.entries()) {
      rec.id = uuidv7();
      const circuitId = circuitIds[n] ?? '';
      const revision = (newest.get(circuitId) ?? 0) + 1;
      newest.set(circuitId, revision);
      revisions.push(revision);
    }
    const rows = lazily(group, (rec, n) => {
      const by =
        entity === 'target-setting'
          ? { released_by: actor.membershipId, released_by_name: actor.displayName }
          : {
              recorded_by: actor.membershipId,
              recorded_by_name: actor.displayName,
              basis: 'report',
              fixture_id: fixtures[n] ?? null,
            };
      return {
        ...linksOf(rec),
        id: rec.id,
        ...toColumns(entity, (field) => given(rec, field), null),
        ...by,
        revision: revisions[n],
      };
    });
    const extra: Record<string, string> =
      entity === 'target-setting'
        ? { released_by: 'uuid', released_by_name: 'text', revision: 'int' }
        : { recorded_by: 'uuid', recorded_by_name: 'text', basis: 'text', fixture_id: 'uuid', revision: 'int' };
    await this.writer.insert(entity, rows, extra);
    return group.map((rec, n): WrittenChange => ({
      entity,
      entityId: required(rec.id, entity),
      name: rec.label,
      operation: 'revised',
      before: { circuitId: circuitIds[n], previousId: rec.existing?.id ?? null },
      versionAfter: revisions[n] ?? 1,
    }));
  }

  private toCreated(rec: Rec): WrittenChange {
    const { entity, label } = rec;
    return {
      entity,
      entityId: required(rec.id, entity),
      name: label,
      operation: 'created',
      before: {},
      versionAfter: 1,
    };
  }

  private toChanged(rec: Rec): WrittenChange {
    const { entity, label, existing } = rec;
    return {
      entity,
      entityId: existing?.id ?? '',
      name: label,
      operation: 'changed',
      before: {
        ...toColumns(entity, (field) => existing?.values[field] ?? null, null),
        ...existing?.derived,
        archived: existing?.archived ?? false,
      },
      versionAfter: (existing?.version ?? 0) + 1,
    };
  }

  private toAudit(rec: Rec, importId: string): ImportAudit {
    const isNew = rec.outcome === 'created' || rec.isExchange;
    const values = isNew
      ? Object.fromEntries([...rec.values].map(([field, one]) => [field, display(one.value)]))
      : Object.fromEntries(rec.changes.map(({ field, from, to }) => [field, { from: display(from), to: display(to) }]));
    return {
      action: rec.isExchange ? 'import-exchange' : isNew ? 'import-create' : 'import-change',
      entity: rec.entity,
      entityId: required(rec.id ?? idOf(rec), rec.entity),
      customerId: rec.entity === 'customer' ? idOf(rec) : idOf(rec.parents.customer),
      changes: { importId, ...values },
    };
  }

  /** Marks what used the changed things as stale, and computes every circuit that they bear on anew, once. */
  async follow(changes: readonly Change[], tell: Tell): Promise<number> {
    const ids = await this.consequences.follow(changes);
    await this.writer.followNormally();
    if (ids.length > DIRECTLY) {
      await this.consequences.leaveToJob(ids);
      return ids.length;
    }
    await tell('standings', 0, ids.length);
    await this.consequences.refresh(ids, (done) => tell('standings', done, ids.length));
    return ids.length;
  }
}
