'use client';

import { PROBLEM_CODES } from '@repo/contracts';
import { useTranslate } from '@/lib/i18n/i18n';
import { DEFAULT_LOCALE, toLanguageTag } from '@/messages';
import { PageHead, Panel } from '@/ui/panel';
import { Table } from '@/ui/table';

/** The interface is described in one language, whoever reads; a voice that reads it aloud is told so. */
const WRITTEN_IN = toLanguageTag(DEFAULT_LOCALE);

/** Every code that a problem can carry; each has the anchor that its `type` points to. */
export function ProblemList() {
  const t = useTranslate();
  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[{ name: t('reference.title'), href: '/reference' }]}
        title={t('reference.problems')}
        under={t('reference.problemsUnder')}
      />
      <Panel label={t('reference.problems')}>
        <Table
          caption={t('reference.problems')}
          rows={Object.entries(PROBLEM_CODES)}
          rowKey={([code]) => code}
          columns={[
            { key: 'code', title: t('reference.code'), isName: true, cell: ([code]) => <code id={code}>{code}</code> },
            { key: 'status', title: t('reference.status'), cell: ([, problem]) => problem.status },
            {
              key: 'title',
              title: t('reference.means'),
              cell: ([, problem]) => <span lang={WRITTEN_IN}>{problem.title}</span>,
            },
            {
              key: 'when',
              title: t('reference.when'),
              cell: ([, problem]) => <span lang={WRITTEN_IN}>{problem.when}</span>,
            },
          ]}
        />
      </Panel>
    </>
  );
}
