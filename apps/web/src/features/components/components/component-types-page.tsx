'use client';

import { COMPONENT_KINDS, routes, type ComponentKind, type ComponentType } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useRouter } from 'next/navigation';
import type { ReactNode } from 'react';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { Entered } from '@/lib/quantity/number';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { useMay } from '@/lib/session/session';
import { FailedNote } from '@/lib/states';
import { SearchField } from '@/lib/search-field';
import { useUrlState } from '@/lib/url-state';
import { ListEnd } from '@/lib/list-end';
import { FieldRow, SelectField } from '@/ui/field';
import { LoadingNote, StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { Table } from '@/ui/table';
import { NewComponentTypeForm } from './component-type-form';
import { LotSearch } from './lot-search';

const findKind = (text: string | null): ComponentKind | undefined => COMPONENT_KINDS.find((kind) => kind === text);

function AddComponentType() {
  const t = useTranslate();
  const router = useRouter();
  const may = useMay();
  if (!may(routes.componentTypes.create)) return null;
  return (
    <FormDialog look="strong" action={t('componentTypes.add')} title={t('componentTypes.add')}>
      {(close) => (
        <NewComponentTypeForm
          onDone={(type) => {
            close();
            router.push(`/component-types/${type.id}`);
          }}
        />
      )}
    </FormDialog>
  );
}

const toKindName = (t: Translate, kind: ComponentKind): string => t.find(`componentKind.${kind}`) ?? kind;

function TypeTable({ rows, more }: { rows: readonly ComponentType[]; more: ReactNode }) {
  const t = useTranslate();
  return (
    <Panel label={t('componentTypes.title')}>
      <Table
        caption={t('componentTypes.title')}
        rows={rows}
        rowKey={(row) => row.id}
        columns={[
          {
            key: 'name',
            title: t('componentTypes.name'),
            isName: true,
            cell: (row) => <Link href={`/component-types/${row.id}`}>{row.name}</Link>,
          },
          { key: 'kind', title: t('components.kind'), cell: (row) => toKindName(t, row.kind) },
          { key: 'part', title: t('componentTypes.partNumber'), cell: (row) => row.partNumber || '–' },
          {
            key: 'rating',
            title: t('components.rating'),
            cell: (row) => {
              const rating = row.figures['ratedPressure'];
              return rating === undefined ? t('value.notKnown') : <Entered quantity={rating} />;
            },
          },
          { key: 'revision', title: t('componentTypes.revision'), isNumber: true, cell: (row) => row.revision },
        ]}
      />
      {more}
    </Panel>
  );
}

/** The library of components: kinds, ratings, where the figures come from. */
export function ComponentTypesPage() {
  const t = useTranslate();
  const { get, set } = useUrlState();
  const kind = findKind(get('kind'));
  const search = get('search') ?? '';
  const { query, items } = useApiPages(routes.componentTypes.list, {
    query: { limit: 100, ...(kind === undefined ? {} : { kind }), ...(search === '' ? {} : { search }) },
  });
  const isFiltered = kind !== undefined || search !== '';
  return (
    <>
      <PageHead
        title={t('componentTypes.title')}
        under={t('componentTypes.under')}
        actions={
          <>
            <ExportButton tables={['component-types', 'component-type-revisions', 'installed-components']} />
            <UnitSwitch />
            <AddComponentType />
          </>
        }
      />
      <StackedPanels>
        <search>
          <FieldRow>
            <SearchField name="search" label={t('componentTypes.search')} />
            <SelectField
              label={t('components.kind')}
              value={kind ?? ''}
              choices={[
                { value: '', label: t('componentTypes.everyKind') },
                ...COMPONENT_KINDS.map((value) => ({ value, label: toKindName(t, value) })),
              ]}
              onChange={(value) => set({ kind: value })}
            />
          </FieldRow>
        </search>
        {query.error !== null && items.length === 0 ? (
          <FailedNote error={query.error} onRetry={() => void query.refetch()} />
        ) : null}
        {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
        {query.isSuccess && items.length === 0 ? (
          <StateNote title={t(isFiltered ? 'componentTypes.none' : 'componentTypes.empty')}>
            {t(isFiltered ? 'componentTypes.noneText' : 'componentTypes.emptyText')}
          </StateNote>
        ) : null}
        {items.length === 0 ? null : <TypeTable rows={items} more={<ListEnd query={query} />} />}
        <LotSearch />
      </StackedPanels>
    </>
  );
}
