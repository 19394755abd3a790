'use client';

import { routes, type Import, type ImportMapping, type ImportNote } from '@repo/contracts';
import { useQueryClient } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { callApi } from '@/lib/api/client';
import { useTranslate } from '@/lib/i18n/i18n';
import { useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { CheckField, SelectField } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { SheetMapping } from './sheet-mapping';
import styles from './imports.module.css';

/** Notes in words, each once. */
export function Notes({ notes }: { notes: readonly ImportNote[] }) {
  const t = useTranslate();
  return (
    <ul className={styles['notes']}>
      {notes.map((note) => (
        <li key={JSON.stringify(note)}>{t.find(`imports.note.${note.code}`, note.params) ?? note.code}</li>
      ))}
    </ul>
  );
}

/** What the separator is in numbers that read two ways: asked once for the file, with an example and both its readings. */
function DecimalSign({
  question,
  value,
  onChange,
}: {
  question: Import['questions'][number] | undefined;
  value: ImportMapping['decimal'];
  onChange: (value: ImportMapping['decimal']) => void;
}) {
  const t = useTranslate();
  // Once answered the question is gone: what it showed stays beside the answer.
  const [asked, setAsked] = useState(question);
  if (question !== undefined && question !== asked) setAsked(question);
  if (asked === undefined && value === null) return null;
  const example = asked?.examples[0] ?? '';
  const says = (sign: 'point' | 'comma'): string =>
    asked === undefined || asked.readings === null
      ? t(`imports.decimal.${sign}`)
      : t(`imports.decimal.${sign}Reads`, { example, reading: asked.readings[sign] });
  return (
    <SelectField
      label={example === '' ? t('imports.decimalAgain') : t('imports.decimal', { example })}
      hint={asked === undefined ? undefined : t('imports.examples', { examples: t.list(asked.examples.slice(0, 3)) })}
      value={value ?? ''}
      onChange={(next) => onChange(next === 'comma' || next === 'point' ? next : null)}
      choices={[
        { value: '', label: t('imports.decimal.ask') },
        { value: 'point', label: says('point') },
        { value: 'comma', label: says('comma') },
      ]}
    />
  );
}

/** What was chosen, kept by the service as it is chosen. */
function useMapping(current: Import, etag: string | null, onTried: () => void) {
  const client = useQueryClient();
  const [mapping, setMapping] = useState<ImportMapping | null>(current.mapping);
  const [error, setError] = useState<unknown>(null);
  const version = useRef(etag);
  const saving = useRef<Promise<void>>(Promise.resolve());
  const change = (next: ImportMapping): void => {
    const isMoved = next.sheets.some(
      ({ sheet, headerRow }) => mapping?.sheets.find((one) => one.sheet === sheet)?.headerRow !== headerRow,
    );
    setMapping(next);
    setError(null);
    saving.current = saving.current.then(async () => {
      try {
        const answer = await callApi(routes.imports.update, {
          params: { id: current.id },
          body: { mapping: next },
          etag: version.current ?? undefined,
        });
        version.current = answer.etag;
        // Under other headings the service suggests the columns anew.
        if (isMoved) setMapping(answer.data.mapping);
        client.setQueryData([routes.imports.get.id, { params: { id: current.id } }], answer);
      } catch (problem) {
        setError(problem);
      }
    });
  };
  const tryIt = async (): Promise<void> => {
    await saving.current;
    try {
      await callApi(routes.imports.check, { params: { id: current.id } });
      onTried();
    } catch (problem) {
      setError(problem);
    }
  };
  return { mapping, error, change, tryIt };
}

/**
 * Which column is what. Every choice is kept by the service at once, one after the other, so that nothing is lost when the
 * page is left.
 */
export function MappingStep({
  one: current,
  etag,
  onTried,
}: {
  one: Import;
  etag: string | null;
  onTried: () => void;
}) {
  const t = useTranslate();
  const toText = useProblemText();
  const { mapping, error, change, tryIt } = useMapping(current, etag, onTried);
  if (mapping === null || current.reading === null) return null;
  const { reading, questions } = current;
  const notes = [...reading.notes, ...reading.sheets.flatMap((sheet) => sheet.notes)];
  const hasHiddenRows = reading.sheets.some((sheet) => sheet.hiddenRows > 0);
  const hasHiddenColumns = reading.sheets.some((sheet) => sheet.columns.some((column) => column.hidden));
  const hasTotals = notes.some((note) => note.code === 'totals-rows');
  return (
    <>
      <Panel title={t('imports.found')}>
        {current.isRemembered ? <p>{t('imports.remembered')}</p> : null}
        <Notes notes={notes} />
        {hasHiddenRows ? (
          <CheckField
            label={t('imports.hiddenRows')}
            isChecked={mapping.hiddenRows}
            onChange={(hiddenRows) => change({ ...mapping, hiddenRows })}
          />
        ) : null}
        {hasHiddenColumns ? (
          <CheckField
            label={t('imports.hiddenColumns')}
            isChecked={mapping.hiddenColumns}
            onChange={(hiddenColumns) => change({ ...mapping, hiddenColumns })}
          />
        ) : null}
        {hasTotals ? (
          <CheckField
            label={t('imports.keepTotals')}
            isChecked={mapping.keepTotals}
            onChange={(keepTotals) => change({ ...mapping, keepTotals })}
          />
        ) : null}
        <DecimalSign
          question={questions.find((question) => question.kind === 'decimal-sign')}
          value={mapping.decimal}
          onChange={(decimal) => change({ ...mapping, decimal })}
        />
      </Panel>
      {mapping.sheets.map((sheet) => (
        <SheetMapping
          key={sheet.sheet}
          reading={reading}
          mapping={sheet}
          questions={questions.filter((question) => question.sheet === sheet.sheet)}
          onChange={(next) =>
            change({ ...mapping, sheets: mapping.sheets.map((other) => (other.sheet === next.sheet ? next : other)) })
          }
        />
      ))}
      {questions.length > 0 ? (
        <Notice role="status">{t('imports.questions', { count: questions.length })}</Notice>
      ) : null}
      {error === null ? null : <Notice role="alert">{toText(error)}</Notice>}
      <p className={styles['actions']}>
        <Button look="strong" disabled={questions.length > 0} onClick={() => void tryIt()}>
          {t('imports.try')}
        </Button>
      </p>
    </>
  );
}
