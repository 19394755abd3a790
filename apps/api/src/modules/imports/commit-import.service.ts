import { Injectable } from '@nestjs/common';
import { toSiOf, type ImportEntity } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { operationCut } from '../../documents/operation-cut.js';
import type { Actor } from '../../platform/auth/actor.js';
import { AppError } from '../../platform/errors/app-error.js';
import { groupBy } from '../../platform/group-by.js';
import { lazily } from '../../platform/one-ahead.js';
import { OperationsService } from '../operations/index.js';
import { ConsequencesService, dependOn, type Change } from '../sizing/index.js';
import { requiredFieldsOf } from './cut-columns.js';
import { gatherElements, withFixtures } from './element-records.js';
import {
  hasPeriod,
  isRevised,
  isTable,
  type PeriodEntity,
  type RevisedEntity,
  type TableEntity,
} from './entity-tables.js';
import {
  ImportWriterRepository,
  toColumns,
  type ColumnValues,
  type ImportAudit,
  type WrittenChange,
} from './import-writer.repository.js';
import { editOf } from './import-edits.js';
import { linksOf, required } from './links-of.js';
import { display, idOf, type Rec } from './plan-model.js';
import { resultingOf } from './resulting.js';
import { touchedBy } from './touched-by.js';
import { TypeRevisionsRepository } from './type-revisions.repository.js';
import type { Value } from './read-value.js';

/** Circuits that are computed anew in the same transaction; more are left to a job that is enqueued with it. */
const DIRECTLY = 1_000;

type Tell = (step: string, done: number, total: number) => Promise<void>;

const given = (rec: Rec, field: string): Value | null => rec.values.get(field)?.value ?? null;
/** The record that something is done to: an element is a part of its fixture. */
function toDone(rec: Rec): { entity: TableEntity; id: string } {
  if (isTable(rec.entity)) return { entity: rec.entity, id: required(rec.id ?? idOf(rec), rec.entity) };
  return { entity: 'fixture', id: required(idOf(rec.parents.fixture), 'fixture') };
}

/** What a type says that no proof reads. */
const UNREAD_OF_TYPE = new Set(['component-type.note', 'component-type.partNumber']);
const isUnread = ({ entity, existing, changes }: Rec): boolean =>
  entity === 'component-type' && existing !== null && changes.every(({ field }) => UNREAD_OF_TYPE.has(field));

/** What a written record changes for those that stand on it. */
function toChange(rec: Rec): Change {
  const { entity, id } = toDone(rec);
  const touchedAt = (placeOf: (entity: ImportEntity) => string | null) =>
    touchedBy(rec.entity, {
      id,
      comesOrGoes: rec.existing === null || rec.existing.archived,
      machineId: placeOf('machine'),
      powerUnitId: placeOf('power-unit'),
      circuitId: placeOf('circuit'),
      stationId: placeOf('station'),
      fixtureId: placeOf('fixture'),
    });
  const { existing } = rec;
  return {
    done: { entity, entityId: id, action: 'import', ...editOf(rec) },
    touched: isUnread(rec)
      ? []
      : [
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
    private readonly operations: OperationsService,
    private readonly consequences: ConsequencesService,
  ) {}

  async write(importId: string, recs: readonly Rec[], actor: Actor, tell: Tell): Promise<{ circuits: number }> {
    const changes: WrittenChange[] = [];
    const fixtures = gatherElements(recs);
    let done = 0;
    for (const [entity, group] of groupBy(withFixtures(recs, fixtures), (rec) => rec.entity)) {
      if (!isTable(entity)) continue;
      await tell('writing', done, recs.length);
      for (const rec of group) if (rec.existing === null || rec.isExchange) rec.id = uuidv7();
      if (entity === 'operation') for (const rec of group) rec.further = await this.require(rec);
      changes.push(...(await this.writeEntity(entity, group, actor)));
      done += group.length;
    }
    const recomputed = await this.recompute(fixtures);
    changes.push(...recomputed.changes);
    await tell('recording', recs.length, recs.length);
    await this.writer.insertChanges(importId, changes);
    await this.writer.recordAudit(
      lazily([...recs.map((rec) => this.toAudit(rec, importId)), ...recomputed.audit], (fact) => fact),
      importId,
    );
    return { circuits: await this.follow([...recs.map(toChange), ...recomputed.followed], tell) };
  }

  /** The required pressure of an operation, and its cut, as its service has them when a form saves: typed, or computed from what holds now. */
  private async require(rec: Rec): Promise<ColumnValues> {
    const fixtureId = required(idOf(rec.parents.fixture), 'fixture');
    const fields = requiredFieldsOf(rec);
    const { requiredPressure, requiredSource, stored } = await this.operations.requireIn(fixtureId, fields);
    return {
      cut: operationCut.write(stored),
      required_pressure_pa: requiredPressure === null ? null : toSiOf(requiredPressure, 'pressure'),
      required_pressure_entered: requiredPressure,
      required_source: requiredSource,
    };
  }

  /** Operations that are computed from elements that a file has changed: as by hand, each ends as it was and begins anew. */
  private async recompute(fixtures: ReadonlySet<Rec>) {
    const changes: WrittenChange[] = [];
    const audit: ImportAudit[] = [];
    const followed: Change[] = [];
    for (const fixture of fixtures) {
      const fixtureId = required(idOf(fixture), 'fixture');
      for (const { fact, ended, begun } of await this.operations.recomputeOfFixture(fixtureId)) {
        const name = `${fixture.label}, ${fact.entityId}`;
        const ofOperation = { entity: 'operation', name, before: {} } as const;
        changes.push(
          { ...ofOperation, entityId: ended.id, operation: 'ended', versionAfter: ended.version },
          { ...ofOperation, entityId: begun.id, operation: 'created', versionAfter: begun.version },
        );
        const { action, entityId, customerId = null } = fact;
        audit.push({ action, entity: 'operation', entityId, customerId, changes: fact.changes ?? {} });
        followed.push({
          done: { entity: 'operation', entityId, action },
          touched: dependOn('operations-of-fixture', fixtureId),
        });
      }
    }
    return { changes, audit, followed };
  }

  private async writeEntity(entity: TableEntity, group: readonly Rec[], actor: Actor): Promise<WrittenChange[]> {
    if (hasPeriod(entity)) return this.writePeriods(entity, group, actor);
    if (isRevised(entity)) return this.writeRevisions(entity, group, actor);
    return this.writeArchivable(entity, group);
  }

  private async writeArchivable(entity: TableEntity, group: readonly Rec[]): Promise<WrittenChange[]> {
    const created = group.filter((rec) => rec.existing === null);
    const changed = group.filter((rec) => rec.existing !== null);
    const rows = lazily(created, (rec) => ({
      ...linksOf(rec),
      id: rec.id,
      ...toColumns(entity, resultingOf(rec), null),
      ...rec.further,
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
    return [...created.map((rec) => this.toCreated(entity, rec)), ...changed.map((rec) => this.toChanged(entity, rec))];
  }

  private async update(entity: TableEntity, changed: readonly Rec[]): Promise<void> {
    const count = await this.writer.update(
      entity,
      changed.map((rec) => ({
        ...toColumns(entity, resultingOf(rec), rec.existing?.derived ?? null),
        ...rec.further,
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
        // Of an exchanged component only what the file says is known of the new one; an operation is the same, as it is from then on.
        ...toColumns(
          entity,
          rec.isExchange && entity !== 'operation' ? (field) => given(rec, field) : resultingOf(rec),
          entity === 'operation' ? (rec.existing?.derived ?? null) : null,
        ),
        ...rec.further,
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
      ...created.map((rec) => this.toCreated(entity, rec)),
      ...changed.map((rec) => this.toChanged(entity, rec)),
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

  private toCreated(entity: TableEntity, rec: Rec): WrittenChange {
    const { label } = rec;
    return {
      entity,
      entityId: required(rec.id, entity),
      name: label,
      operation: 'created',
      before: {},
      versionAfter: 1,
    };
  }

  private toChanged(entity: TableEntity, rec: Rec): WrittenChange {
    const { label, existing } = rec;
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
    const { entity, id } = toDone(rec);
    return {
      action: rec.isExchange ? 'import-exchange' : isNew && isTable(rec.entity) ? 'import-create' : 'import-change',
      entity,
      entityId: id,
      customerId: rec.entity === 'customer' ? idOf(rec) : idOf(rec.parents.customer),
      changes: { importId, ...(isTable(rec.entity) ? {} : { element: rec.label }), ...values },
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
