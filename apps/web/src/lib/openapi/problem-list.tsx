'use client';

import { PROBLEM_CODES } from '@repo/contracts';
import { useTranslate } from '@/lib/i18n/i18n';
import { PageHead, Sheet } from '@/ui/sheet';
import { Table } from '@/ui/table';

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
      <Sheet label={t('reference.problems')}>
        <Table
          caption={t('reference.problems')}
          rows={Object.entries(PROBLEM_CODES)}
          rowKey={([code]) => code}
          columns={[
            { key: 'code', title: t('reference.code'), isName: true, cell: ([code]) => <code id={code}>{code}</code> },
            { key: 'status', title: t('reference.status'), cell: ([, problem]) => problem.status },
            { key: 'title', title: t('reference.means'), cell: ([, problem]) => problem.title },
            { key: 'when', title: t('reference.when'), cell: ([, problem]) => problem.when },
          ]}
        />
      </Sheet>
    </>
  );
}
