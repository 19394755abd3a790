import { Injectable } from '@nestjs/common';
import { AppError } from '../../platform/errors/app-error.js';
import { lazily } from '../../platform/one-ahead.js';
import { CommitImportService } from './commit-import.service.js';
import { columnsBefore } from './import-documents.js';
import { ImportWriterRepository } from './import-writer.repository.js';
import { hasPeriod, isRevised, TABLE_ENTITIES, type TableEntity } from './entity-tables.js';
import { ImportsRepository, type ImportChangeRow } from './imports.repository.js';
import type { Change } from '../sizing/index.js';
import { touchedBy } from './touched-by.js';
import { TypeRevisionsRepository } from './type-revisions.repository.js';
import { UndoRepository, type BuiltUpon } from './undo.repository.js';

type Tell = (step: string, done: number, total: number) => Promise<void>;
const REASON = 'import undone';
const SHOWN = 20;

/**
 * Takes a whole import back. What it made is archived under a name that nobody else wants, or its period is withdrawn so that no
 * day shows it; what it changed becomes what it was; settings that it brought no longer stand among those that somebody measured
 * or released, and are kept apart. The trail keeps that the import was there. Refused when anything was built on it since.
 */
@Injectable()
export class UndoImportService {
  constructor(
    private readonly imports: ImportsRepository,
    private readonly undo: UndoRepository,
    private readonly writer: ImportWriterRepository,
    private readonly typeRevisions: TypeRevisionsRepository,
    private readonly committing: CommitImportService,
  ) {}

  async run(importId: string, tell: Tell): Promise<{ records: number; circuits: number }> {
    await this.writer.lock(importId);
    const changes = await this.imports.listChanges(importId);
    await tell('looking', 0, changes.length);
    await this.assertNothingBuilt(changes);
    const followed = await this.changesOf(changes);
    let done = 0;
    for (const entity of [...TABLE_ENTITIES].reverse()) {
      const ownChanges = changes.filter((change) => change.entity === entity);
      await tell('taking-back', done, changes.length);
      await this.takeBack(importId, entity, ownChanges);
      done += ownChanges.length;
    }
    await this.writer.recordAudit(
      lazily(changes, (change) => ({
        action: 'import-undo',
        entity: change.entity,
        entityId: change.entityId,
        customerId: null,
        changes: { importId, was: change.operation },
      })),
      importId,
    );
    const circuits = await this.committing.follow(followed, tell);
    return { records: changes.length, circuits };
  }

  private async assertNothingBuilt(changes: readonly ImportChangeRow[]): Promise<void> {
    const ownIds = changes.map((change) => change.entityId);
    const names = new Map(changes.map((change) => [change.entityId, change]));
    const built: BuiltUpon[] = [];
    for (const entity of TABLE_ENTITIES) {
      const here = changes.filter((change) => change.entity === entity);
      const written = here.map((change) => ({ id: change.entityId, version: change.versionAfter }));
      built.push(...(await this.undo.findChangedSince(entity, written)));
      const made = here.filter((change) => change.operation === 'created').map((change) => change.entityId);
      built.push(...(await this.undo.findHanging(entity, made, ownIds)));
    }
    if (built.length === 0) return;
    throw new AppError('import.built-upon', {
      detail: `It cannot be undone: ${built.length === 1 ? 'a record was' : 'records were'} changed or built upon since.`,
      errors: built.slice(0, SHOWN).map(({ entityId, what }) => ({
        pointer: `/${names.get(entityId)?.entity ?? ''}/${entityId}`,
        field: names.get(entityId)?.entity ?? '',
        got: names.get(entityId)?.name ?? '',
        needs: 'nothing built on it since',
        code: what,
      })),
    });
  }

  private async takeBack(importId: string, entity: TableEntity, changes: readonly ImportChangeRow[]): Promise<void> {
    const ofOperation = (operation: ImportChangeRow['operation']) =>
      changes.filter((change) => change.operation === operation);
    const key = (change: ImportChangeRow) => ({ id: change.entityId, version: change.versionAfter });
    const created = ofOperation('created');
    if (created.length > 0) {
      const rows = created.map(key);
      const count = hasPeriod(entity)
        ? await this.writer.withdraw(
            entity,
            rows.map((row) => ({ ...row, reason: REASON })),
          )
        : await this.undo.archive(entity, rows);
      if (count !== rows.length) throw new AppError('import.built-upon');
      if (entity === 'machine') await this.writer.withdrawPlacements(rows.map(({ id }) => id));
    }
    const ended = ofOperation('ended');
    if (ended.length > 0 && hasPeriod(entity)) {
      const rows = ended.map((change) => ({ ...key(change), validTo: null, reason: '' }));
      if ((await this.writer.setPeriodEnd(entity, rows)) !== rows.length) throw new AppError('import.built-upon');
    }
    const changed = ofOperation('changed').map((change) => ({
      ...columnsBefore.read(change.before, change.name),
      ...key(change),
    }));
    if (changed.length > 0 && (await this.writer.update(entity, changed)) !== changed.length) {
      throw new AppError('import.built-upon');
    }
    if (entity === 'component-type') await this.takeRevisionsOut(importId, changes);
    const revised = ofOperation('revised').map((change) => change.entityId);
    if (revised.length > 0 && isRevised(entity)) {
      const count = await this.undo.takeOut(entity, importId, revised);
      if (count !== revised.length) throw new AppError('import.built-upon');
    }
  }

  /** Those that the import wrote: of a type that it made all of them, of one that it changed what came after the revision before. */
  private async takeRevisionsOut(importId: string, changes: readonly ImportChangeRow[]): Promise<void> {
    const types = changes.map((change) => ({
      id: change.entityId,
      after: change.operation === 'created' ? 0 : Number(columnsBefore.read(change.before, change.name).revision),
    }));
    await this.typeRevisions.takeOut(importId, types);
  }

  private async changesOf(changes: readonly ImportChangeRow[]): Promise<Change[]> {
    const followed: Change[] = [];
    for (const entity of TABLE_ENTITIES) {
      const here = changes.filter((change) => change.entity === entity);
      if (here.length === 0) continue;
      const places = await this.undo.placesOf(
        entity,
        here.map((change) => change.entityId),
      );
      for (const { entityId, operation } of here) {
        const place = places.get(entityId);
        if (place === undefined) continue;
        const comesOrGoes = operation !== 'changed';
        const touched = touchedBy(entity, { ...place, comesOrGoes });
        followed.push({ done: { entity, entityId, action: 'import-undo' }, touched });
      }
    }
    return followed;
  }
}
