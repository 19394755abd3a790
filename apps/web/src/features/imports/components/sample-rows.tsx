'use client';

import { columnsOfEntity, SAMPLE_ROWS, toSampleRow, type ImportEntity } from '@repo/contracts';
import { useTranslate } from '@/lib/i18n/i18n';
import { Table } from '@/ui/table';

interface SampleLine {
  key: string;
  heading: string;
  isNeeded: boolean;
  samples: readonly string[];
}

/** What the columns of a sheet may hold, each with a cell of two rows that are made up. */
export function SampleRows({ entity }: { entity: ImportEntity }) {
  const t = useTranslate();
  const columns = columnsOfEntity(entity);
  const rows = SAMPLE_ROWS.map((row) => toSampleRow(columns, row));
  const lines = columns.map(({ key, header, required }, index): SampleLine => ({
    key,
    heading: header,
    isNeeded: required === true,
    samples: rows.map((cells) => cells[index] ?? ''),
  }));
  return (
    <>
      <p>{t('imports.sampleRows.invented')}</p>
      <Table
        caption={t('imports.sampleRows.of', { entity: t(`imports.entity.${entity}`) })}
        rows={lines}
        rowKey={(line) => line.key}
        columns={[
          {
            key: 'heading',
            title: t('imports.sampleRows.heading'),
            isName: true,
            cell: ({ heading, isNeeded }) => (isNeeded ? t('imports.sampleRows.needed', { heading }) : heading),
          },
          ...SAMPLE_ROWS.map((row) => ({
            key: `row-${row}`,
            title: t('imports.sampleRows.row', { row: row + 1 }),
            cell: ({ samples }: SampleLine) => samples[row] ?? '',
          })),
        ]}
      />
    </>
  );
}
