import { Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { Db } from '../../platform/db/index.js';
import { toColumns, ImportWriterRepository } from './import-writer.repository.js';
import { idOf, type Rec } from './plan-model.js';
import { resultingOf } from './resulting.js';

const FIRST = 'first entry';
const COLUMNS = [
  ...['id', 'component_type_id', 'recorded_by'].map((column) => ({ column, type: 'uuid' })),
  ...['name', 'reason'].map((column) => ({ column, type: 'text' })),
  { column: 'revision', type: 'int' },
  { column: 'figures', type: 'jsonb' },
];

/** The revisions of component types that an import writes, and that its undo takes out. */
@Injectable()
export class TypeRevisionsRepository {
  constructor(
    private readonly db: Db,
    private readonly writer: ImportWriterRepository,
  ) {}

  /** One for each type that is new, or has other figures than before. */
  async insert(types: readonly Rec[]): Promise<void> {
    const rows = types.flatMap((rec) => {
      const before = rec.existing?.derived ?? null;
      const { revision, figures, name } = toColumns('component-type', resultingOf(rec), before);
      if (revision === before?.revision) return [];
      const reason = rec.values.get('reason')?.value ?? (before === null ? FIRST : 'import');
      const recordedBy = this.db.actor.membershipId;
      return [{ id: uuidv7(), component_type_id: idOf(rec), recorded_by: recordedBy, name, reason, revision, figures }];
    });
    await this.writer.insertRows('component_type_revisions', COLUMNS, rows);
  }

  /** Takes out what came after a revision; each is kept as it was among what was undone, and only then goes. */
  async takeOut(importId: string, types: readonly { id: string; after: number }[]): Promise<void> {
    const organisationId = this.db.actor.organisationId;
    const gone = await this.db.tx.$queryRaw<{ id: string }[]>`
      INSERT INTO undone_settings (organisation_id, id, import_id, entity, record)
      SELECT t.organisation_id, t.id, ${importId}::uuid, 'component-type-revision', to_jsonb(t)::text
      FROM jsonb_to_recordset(${JSON.stringify(types)}::jsonb) AS r (id uuid, after int)
      JOIN component_type_revisions t ON t.organisation_id = ${organisationId}::uuid AND t.component_type_id = r.id
        AND t.revision > r.after
      RETURNING id`;
    const ids = gone.map(({ id }) => id);
    await this.db.tx.$executeRaw`
      DELETE FROM component_type_revisions WHERE organisation_id = ${organisationId}::uuid AND id = ANY (${ids}::uuid[])`;
  }
}
