import { createHash } from 'node:crypto';
import {
  IMPORT_ENTITIES,
  type ImportCounts,
  type ImportEntity,
  type ImportMapping,
  type ImportOutcome,
  type ImportReading,
  type ImportRow,
} from '@repo/contracts';
import type { SheetFile } from '../../platform/sheets/index.js';
import { breathe, readRows, RecordCollector, type ReadRow } from './collect-records.js';
import { decideAll } from './decide-records.js';
import type { DecideContext } from './deciding.js';
import { convert, display, type FieldChange, type PlannedRow, type Rec } from './plan-model.js';

export interface Plan {
  rows: ImportRow[];
  /** what will be written, parents first */
  recs: Rec[];
  counts: ImportCounts;
  /** of all that will be written and what it was compared with: the same digest, the same effect */
  digest: string;
}

/** Rows refused in one round may take others with them; a file settles in a few rounds. */
const ROUNDS = 8;
const TELL_EVERY = 2_000;
const BREATHE_EVERY = 500;

interface Round {
  rows: PlannedRow[];
  recs: RecordCollector['recs'];
}

async function planRound(
  rows: readonly ReadRow[],
  context: DecideContext,
  tell?: (done: number) => Promise<void>,
): Promise<Round> {
  const collector = new RecordCollector();
  for (const [index, row] of rows.entries()) {
    if (tell !== undefined && index % TELL_EVERY === 0) await tell(index);
    if (index % BREATHE_EVERY === 0) await breathe();
    collector.add(row);
  }
  await decideAll(collector.recs, context);
  for (const row of collector.rows) {
    for (const rec of row.recs) {
      row.remarks.push(...rec.refusals);
    }
    if (row.remarks.length > 1) row.remarks = distinct(row.remarks);
  }
  return { rows: collector.rows, recs: collector.recs };
}

/** The cause alone: that something hangs on what was refused adds nothing. */
function distinct(remarks: PlannedRow['remarks']): PlannedRow['remarks'] {
  const causes = remarks.filter((one) => one.code !== 'parent-refused' && one.code !== 'parent-missing');
  const kept = causes.length > 0 ? causes : remarks;
  const seen = new Set<string>();
  return kept.filter((remark) => {
    const key = JSON.stringify(remark);
    return !seen.has(key) && seen.add(key);
  });
}

const outcomeOf = (row: PlannedRow, position: number): ImportOutcome => {
  const ownOutcomes = row.recs.filter((rec) => rec.rows[0] === position).map((rec) => rec.outcome);
  if (ownOutcomes.includes('created')) return 'created';
  return ownOutcomes.includes('changed') ? 'changed' : 'unchanged';
};

/** Every value that will be written: of a record that is there what changes, of a new one all that the file says of it. */
const writtenBy = (rec: Rec): readonly FieldChange[] =>
  rec.outcome !== 'created'
    ? rec.changes
    : [...rec.values].map(([name, given]) => ({
        field: `${rec.entity}.${name}`,
        from: null,
        to: given.value,
        cell: given.cell,
      }));

const toRecords = (row: PlannedRow, position: number | null): ImportRow['records'] =>
  row.recs
    .filter((rec, index) => index === row.recs.length - 1 || (rec.rows[0] === position && rec.outcome !== 'unchanged'))
    .map((rec) => ({
      entity: rec.entity,
      name: rec.label,
      outcome: rec.outcome,
      changes: writtenBy(rec).map(({ field, from, to, cell }) => ({
        field,
        from: display(from),
        to: display(to),
        converted: convert(field, to),
        cell,
      })),
    }));

const toRefused = (row: PlannedRow, sequence: number): ImportRow => ({
  sequence,
  sheet: row.sheet,
  row: row.row,
  outcome: 'refused',
  records: toRecords(row, null),
  filled: [...row.filled],
  findings: row.remarks,
});

const none = () => ({ created: 0, changed: 0, unchanged: 0, refused: 0 });

function digestOf(recs: readonly Rec[]): string {
  const hash = createHash('sha256');
  for (const { entity, key, outcome, changes, existing, values, typeId } of recs) {
    const facts = outcome === 'created' ? [...values].map(([name, one]) => [name, one.value]) : changes;
    hash.update(JSON.stringify([entity, key, outcome, facts, existing?.id, existing?.version, typeId]));
  }
  return hash.digest('hex');
}

/**
 * What an import would do: row by row, and record by record. Rows that are refused leave no trace in what would be written:
 * the rest is planned again without them.
 */
export async function planImport(
  file: SheetFile,
  reading: ImportReading,
  mapping: ImportMapping,
  context: DecideContext,
  tell?: (done: number, total: number) => Promise<void>,
): Promise<Plan> {
  const read = await readRows(file, reading, mapping);
  const planned: ImportRow[] = [];
  const refusedRecords = new Map<ImportEntity, Set<string>>();
  const all = read.map((row, sequence) => ({ row, sequence }));
  let open = all.filter(({ row }) => row.remarks.length === 0);
  let round: Round = { rows: [], recs: new Map() };
  for (let n = 0; n < ROUNDS; n += 1) {
    round = await planRound(
      open.map(({ row }) => row),
      context,
      n === 0 ? (done) => tell?.(done, read.length) ?? Promise.resolve() : undefined,
    );
    const kept: typeof open = [];
    round.rows.forEach((row, position) => {
      const candidate = open[position];
      if (candidate === undefined) return;
      if (row.remarks.length === 0) {
        kept.push(candidate);
        return;
      }
      for (const rec of row.recs) {
        if (rec.refusals.length > 0)
          refusedRecords.set(rec.entity, (refusedRecords.get(rec.entity) ?? new Set()).add(rec.key));
      }
      planned.push(toRefused(row, candidate.sequence));
    });
    if (kept.length === open.length) break;
    open = kept;
    if (n === ROUNDS - 1) throw new Error('an import does not settle');
  }
  const unreadable = all.filter(({ row }) => row.remarks.length > 0);
  if (unreadable.length > 0) {
    // What else is wrong with them is seen beside what will be written, so that a person mends a row once.
    const together = await planRound(
      [...open, ...unreadable].map(({ row }) => row),
      context,
    );
    together.rows.slice(open.length).forEach((row, n) => planned.push(toRefused(row, unreadable[n]?.sequence ?? 0)));
  }
  const counts: ImportCounts = { rows: none(), records: {} };
  round.rows.forEach((row, position) => {
    planned.push({
      sequence: open[position]?.sequence ?? 0,
      sheet: row.sheet,
      row: row.row,
      outcome: outcomeOf(row, position),
      records: toRecords(row, position),
      filled: [...row.filled],
      findings: row.recs.flatMap((rec) => (rec.rows[0] === position ? rec.told : [])),
    });
  });
  planned.sort((a, b) => a.sequence - b.sequence);
  for (const row of planned) counts.rows[row.outcome] += 1;
  const recs = IMPORT_ENTITIES.flatMap((entity) => [...(round.recs.get(entity)?.values() ?? [])]);
  for (const rec of recs) {
    const tally = (counts.records[rec.entity] ??= none());
    tally[rec.outcome] += 1;
  }
  for (const [entity, keys] of refusedRecords) (counts.records[entity] ??= none()).refused += keys.size;
  const written = recs.filter((rec) => rec.outcome === 'created' || rec.outcome === 'changed');
  return { rows: planned, recs: written, counts, digest: digestOf(written) };
}
