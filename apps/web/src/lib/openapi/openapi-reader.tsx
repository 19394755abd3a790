'use client';

import { useQuery } from '@tanstack/react-query';
import { Link } from '@/ui/link';
import { toApiError } from '@/lib/api/problem';
import { useTranslate } from '@/lib/i18n/i18n';
import { Loaded } from '@/lib/states';
import { SearchField } from '@/lib/search-field';
import { useUrlState } from '@/lib/url-state';
import { DEFAULT_LOCALE, toLanguageTag } from '@/messages';
import { StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { isRecord, listOperations, type Operation } from './openapi-document';
import styles from './openapi.module.css';

/** The description is written in one language, whoever reads; a voice that reads it aloud is told so. */
const WRITTEN_IN = toLanguageTag(DEFAULT_LOCALE);
const ADDRESS = '/api/v1/openapi.json';

function Schema({ title, schema }: { title: string; schema: unknown }) {
  return (
    <details className={styles['schema']}>
      <summary>{title}</summary>
      <pre tabIndex={0}>{JSON.stringify(schema, null, 2)}</pre>
    </details>
  );
}

function OperationEntry({ operation }: { operation: Operation }) {
  const t = useTranslate();
  return (
    <details className={styles['operation']} id={operation.id}>
      <summary>
        <code className={styles['method']}>{operation.method}</code>
        <code className={styles['path']}>{operation.path}</code>
        <span lang={WRITTEN_IN}>{operation.summary}</span>
      </summary>
      <div className={styles['body']}>
        {operation.description === '' ? null : <p lang={WRITTEN_IN}>{operation.description}</p>}
        {operation.parameters.length === 0 ? null : (
          <ul>
            {operation.parameters.map((parameter) => (
              <li key={`${parameter.place}${parameter.name}`}>
                <code>{parameter.name}</code> {t(`reference.in.${parameter.place}`)}
                {parameter.isRequired ? `, ${t('reference.required')}` : ''}
                {parameter.description === '' ? '' : `: ${parameter.description}`}
              </li>
            ))}
          </ul>
        )}
        {operation.body === null ? null : <Schema title={t('reference.body')} schema={operation.body} />}
        {operation.answers.map((answer) => (
          <Schema key={answer.status} title={`${answer.status} ${answer.description}`} schema={answer.schema} />
        ))}
      </div>
    </details>
  );
}

/** The API's description, to be read: every route by area, with what it takes and gives. */
export function OpenApiReader() {
  const t = useTranslate();
  const { get } = useUrlState();
  const search = (get('search') ?? '').toLowerCase();
  const query = useQuery({
    queryKey: ['openapi'],
    queryFn: async ({ signal }): Promise<unknown> => {
      const response = await fetch(ADDRESS, { signal });
      if (!response.ok) throw await toApiError(response);
      return response.json();
    },
    staleTime: Infinity,
  });
  return (
    <>
      <PageHead
        title={t('reference.title')}
        under={t('reference.under')}
        actions={
          <>
            <Link href="/reference/problems">{t('reference.problems')}</Link>
            <a href={ADDRESS}>{t('reference.file')}</a>
          </>
        }
      />
      <Loaded query={query}>
        {(document) => {
          const matching = listOperations(document).filter((operation) =>
            `${operation.method} ${operation.path} ${operation.summary} ${operation.area}`
              .toLowerCase()
              .includes(search),
          );
          const areas = [...new Set(matching.map((operation) => operation.area))];
          const schemas =
            isRecord(document) && isRecord(document['components']) ? document['components']['schemas'] : null;
          return (
            <StackedPanels>
              <SearchField name="search" label={t('reference.search')} />
              {matching.length === 0 ? <StateNote title={t('reference.none')} /> : null}
              {areas.map((area) => (
                <Panel key={area} title={area}>
                  {matching
                    .filter((operation) => operation.area === area)
                    .map((operation) => (
                      <OperationEntry key={operation.id} operation={operation} />
                    ))}
                </Panel>
              ))}
              {isRecord(schemas) ? (
                <Panel title={t('reference.shapes')}>
                  {Object.entries(schemas).map(([name, schema]) => (
                    <Schema key={name} title={name} schema={schema} />
                  ))}
                </Panel>
              ) : null}
            </StackedPanels>
          );
        }}
      </Loaded>
    </>
  );
}
