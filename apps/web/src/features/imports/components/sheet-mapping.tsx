'use client';

import {
  IMPORT_ENTITIES,
  IMPORT_FIELDS,
  importField,
  type Import,
  type ImportMapping,
  type ImportReading,
} from '@repo/contracts';
import { getKindInfo } from '@repo/quantity';
import { useState } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { CheckField, SelectField, TextField } from '@/ui/field';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { toChoiceWords } from '../choice-word';
import styles from './imports.module.css';

type SheetMappingValue = ImportMapping['sheets'][number];
type ColumnMapping = SheetMappingValue['columns'][number];
type Question = Import['questions'][number];

const isDate = (type: string): boolean => type === 'date' || type === 'instant';

function FieldSelect({
  label,
  value,
  used,
  empty,
  onChange,
}: {
  label: string;
  value: string | null;
  used: ReadonlySet<string>;
  /** what no choice means */
  empty: string;
  onChange: (value: string | null) => void;
}) {
  const t = useTranslate();
  return (
    <select
      className={styles['select']}
      aria-label={label}
      value={value ?? ''}
      onChange={(event) => onChange(event.target.value === '' ? null : event.target.value)}
    >
      <option value="">{empty}</option>
      {IMPORT_ENTITIES.map((entity) => (
        <optgroup key={entity} label={t(`imports.entity.${entity}`)}>
          {IMPORT_FIELDS.filter((field) => field.entity === entity).map((field) => (
            <option key={field.key} value={field.key} disabled={used.has(field.key) && field.key !== value}>
              {field.header}
            </option>
          ))}
        </optgroup>
      ))}
    </select>
  );
}

/** What a column leaves open: the order of day and month, the unit, what an empty cell means. */
function HowToRead({
  letter,
  column,
  question,
  onChange,
}: {
  letter: string;
  column: ColumnMapping;
  question: Question | undefined;
  onChange: (column: ColumnMapping) => void;
}) {
  const t = useTranslate();
  const field = column.field === null ? undefined : importField(column.field);
  if (field === undefined) return null;
  const hint =
    question === undefined ? undefined : t('imports.examples', { examples: t.list(question.examples.slice(0, 3)) });
  return (
    <>
      {isDate(field.type) && (question !== undefined || column.dateOrder !== null) ? (
        <SelectField
          label={t('imports.dateOrder', { letter })}
          hint={hint}
          value={column.dateOrder ?? ''}
          onChange={(value) =>
            onChange({ ...column, dateOrder: value === 'day-month' || value === 'month-day' ? value : null })
          }
          choices={[
            { value: '', label: t('imports.dateOrder.ask') },
            { value: 'day-month', label: t('imports.dateOrder.day-month') },
            { value: 'month-day', label: t('imports.dateOrder.month-day') },
          ]}
        />
      ) : null}
      {field.kind === undefined ? null : (
        <SelectField
          label={t('imports.unit', { letter })}
          value={column.unit ?? ''}
          onChange={(value) => onChange({ ...column, unit: value === '' ? null : value })}
          choices={[
            { value: '', label: t('imports.unit.none') },
            ...getKindInfo(field.kind).displayUnits.map(({ unit, symbol }) => ({ value: unit, label: symbol })),
          ]}
        />
      )}
      <CheckField
        label={t('imports.fillDown', { letter })}
        isChecked={column.fillDown}
        onChange={(fillDown) => onChange({ ...column, fillDown })}
      />
    </>
  );
}

/** A value for every row: chosen from words where only those are possible. */
function ConstantValue({
  field,
  value,
  onChange,
}: {
  field: string | null;
  value: string;
  onChange: (value: string) => void;
}) {
  const t = useTranslate();
  const about = field === null ? undefined : importField(field);
  const words = about?.type === 'boolean' ? ['yes', 'no'] : about?.type === 'choice' ? (about.choices ?? []) : [];
  const label = t('imports.constantValue');
  if (words.length === 0) return <TextField label={label} value={value} maxLength={400} onChange={onChange} />;
  return (
    <SelectField
      label={label}
      value={value}
      onChange={onChange}
      choices={[
        { value: '', label: t('imports.chooseValue') },
        ...words.map((word) => ({ value: word, label: field === null ? word : toChoiceWords(t, field, word) })),
      ]}
    />
  );
}

function Constants({
  mapping,
  used,
  onChange,
}: {
  mapping: SheetMappingValue;
  used: ReadonlySet<string>;
  onChange: (mapping: SheetMappingValue) => void;
}) {
  const t = useTranslate();
  const [field, setField] = useState<string | null>(null);
  const [value, setValue] = useState('');
  return (
    <div className={styles['constants']}>
      <h3>{t('imports.constants')}</h3>
      <p className={styles['quiet']}>{t('imports.constantsHint')}</p>
      <ul>
        {mapping.constants.map((constant) => {
          const name = importField(constant.field)?.header ?? constant.field;
          return (
            <li key={constant.field}>
              {name}: {toChoiceWords(t, constant.field, constant.value)}{' '}
              <Button
                look="plain"
                aria-label={t('imports.removeConstant', { field: name })}
                onClick={() =>
                  onChange({ ...mapping, constants: mapping.constants.filter((one) => one.field !== constant.field) })
                }
              >
                {t('imports.remove')}
              </Button>
            </li>
          );
        })}
      </ul>
      <div className={styles['addConstant']}>
        <FieldSelect
          label={t('imports.constantField')}
          value={field}
          used={used}
          empty={t('imports.chooseField')}
          onChange={(next) => {
            setField(next);
            setValue('');
          }}
        />
        <ConstantValue field={field} value={value} onChange={setValue} />
        <Button
          disabled={field === null || value.trim() === ''}
          onClick={() => {
            if (field === null) return;
            onChange({ ...mapping, constants: [...mapping.constants, { field, value: value.trim() }] });
            setField(null);
            setValue('');
          }}
        >
          {t('imports.addConstant')}
        </Button>
      </div>
    </div>
  );
}

/** Where the headings stand. Said when the field is left, since every row on the way to it would be looked at as well. */
function HeaderRow({ value, onChange }: { value: number; onChange: (row: number) => void }) {
  const t = useTranslate();
  const [typed, setTyped] = useState(String(value));
  const row = /^\d{1,5}$/.test(typed.trim()) ? Number(typed.trim()) : null;
  return (
    <div className={styles['headerRow']}>
      <TextField
        label={t('imports.headerRow')}
        hint={t('imports.headerRowHint')}
        error={row === null ? t('imports.headerRowWrong') : null}
        value={typed}
        inputMode="numeric"
        maxLength={5}
        onChange={setTyped}
      />
      {row === null || row === value ? null : (
        <Button onClick={() => onChange(row)}>{t('imports.headerRowUse', { row })}</Button>
      )}
    </div>
  );
}

/** Each column with what it holds, what it is taken as, and how it is read. */
function ColumnTable({
  sheet,
  title,
  mapping,
  used,
  questions,
  onChange,
}: {
  sheet: ImportReading['sheets'][number];
  title: string;
  mapping: SheetMappingValue;
  used: ReadonlySet<string>;
  questions: readonly Question[];
  onChange: (mapping: SheetMappingValue) => void;
}) {
  const t = useTranslate();
  const columnOf = (index: number): ColumnMapping =>
    mapping.columns.find((column) => column.column === index) ?? {
      column: index,
      field: null,
      unit: null,
      decimal: null,
      dateOrder: null,
      fillDown: false,
    };
  const changeColumn = (next: ColumnMapping): void =>
    onChange({
      ...mapping,
      columns: sheet.columns.map(({ column }) => (column === next.column ? next : columnOf(column))),
    });
  return (
    <Table
      caption={title}
      rows={sheet.columns.filter((column) => column.header !== '' || column.samples.length > 0)}
      rowKey={(column) => column.letter}
      columns={[
        {
          key: 'column',
          title: t('imports.column'),
          isName: true,
          cell: (column) => `${column.letter} · ${column.header}`,
        },
        { key: 'samples', title: t('imports.samples'), cell: (column) => t.list(column.samples) },
        {
          key: 'field',
          title: t('imports.field'),
          cell: (column) => (
            <FieldSelect
              label={t('imports.fieldOf', { letter: column.letter, header: column.header })}
              value={columnOf(column.column).field}
              used={used}
              empty={t('imports.leaveOut')}
              onChange={(field) => changeColumn({ ...columnOf(column.column), field, unit: null })}
            />
          ),
        },
        {
          key: 'how',
          title: t('imports.how'),
          cell: (column) => (
            <HowToRead
              letter={column.letter}
              column={columnOf(column.column)}
              question={questions.find(
                (question) => question.kind === 'date-order' && question.column === column.column,
              )}
              onChange={changeColumn}
            />
          ),
        },
      ]}
    />
  );
}

/** One sheet: which of its columns is what. */
export function SheetMapping({
  reading,
  mapping,
  questions,
  onChange,
}: {
  reading: ImportReading;
  mapping: SheetMappingValue;
  questions: readonly Question[];
  onChange: (mapping: SheetMappingValue) => void;
}) {
  const t = useTranslate();
  const sheet = reading.sheets[mapping.sheet];
  if (sheet === undefined) return null;
  const used = new Set([
    ...mapping.columns.flatMap((column) => column.field ?? []),
    ...mapping.constants.map((constant) => constant.field),
  ]);
  const title = t(sheet.hidden ? 'imports.sheetHidden' : 'imports.sheet', { name: sheet.name, rows: sheet.rows });
  return (
    <Panel title={title}>
      {reading.sheets.length > 1 ? (
        <CheckField
          label={t('imports.use')}
          isChecked={mapping.use}
          onChange={(use) => onChange({ ...mapping, use })}
        />
      ) : null}
      <HeaderRow
        key={mapping.headerRow}
        value={mapping.headerRow}
        onChange={(headerRow) => onChange({ ...mapping, headerRow })}
      />
      {mapping.use ? (
        <>
          <ColumnTable
            sheet={sheet}
            title={title}
            mapping={mapping}
            used={used}
            questions={questions}
            onChange={onChange}
          />
          <Constants mapping={mapping} used={used} onChange={onChange} />
        </>
      ) : null}
    </Panel>
  );
}
