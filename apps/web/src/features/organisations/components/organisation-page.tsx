'use client';

import { MARGIN_CODES } from '@repo/calc/checks';
import { routes, type Margins, type Organisation } from '@repo/contracts';
import { ProviderPanel } from '@/features/identity-providers';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { callApi } from '@/lib/api/client';
import { isApiError } from '@/lib/api/problem';
import { number, RecordForm, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { toPlainText } from '@/lib/quantity/format';
import { useMay } from '@/lib/session/session';
import { Loaded, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { Facts, PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';

type Asked = Pick<Organisation, 'marginsAsked' | 'leastProbability'>;
type Percents = Record<keyof Margins | 'leastProbability', number | null>;

/** People read and type percent; the wire carries shares. */
const toPercent = (share: number): number => Number((share * 100).toPrecision(12));
const toShare = (percent: number | null): number => Number(((percent ?? 0) / 100).toPrecision(12));
const toPercents = ({ marginsAsked, leastProbability }: Asked): Percents => ({
  ...(Object.fromEntries(MARGIN_CODES.map((check) => [check, toPercent(marginsAsked[check])])) as Percents),
  leastProbability: toPercent(leastProbability),
});
const toAsked = (percents: Percents): Asked => ({
  marginsAsked: Object.fromEntries(MARGIN_CODES.map((check) => [check, toShare(percents[check])])) as Margins,
  leastProbability: toShare(percents.leastProbability),
});

const share = (label: `check.${keyof Margins}.name`) =>
  number({ label, hint: 'organisation.marginHint', isRequired: true, least: 0, most: 90, typedIn: 'per-cent' });
const FIELDS = {
  ...(Object.fromEntries(MARGIN_CODES.map((code) => [code, share(`check.${code}.name`)])) as Record<
    keyof Margins,
    ReturnType<typeof share>
  >),
  leastProbability: number({
    typedIn: 'per-cent',
    label: 'organisation.leastProbability',
    hint: 'organisation.leastProbabilityHint',
    isRequired: true,
    least: 0,
    most: 99.99,
  }),
};

function MarginsForm({ asked, etag }: { asked: Asked; etag: string | null }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: 'margins',
    fields: FIELDS,
    initial: toPercents(asked),
    etag,
    readAgain: async () => {
      const answer = await callApi(routes.organisations.get, {});
      return { ...answer, data: toPercents(answer.data) };
    },
  });
  const change = useApiChange(routes.organisations.update, {
    onDone: ({ data, etag: newest }) => form.clear({ values: toPercents(data), etag: newest }),
  });
  return (
    <>
      <RecordForm
        form={form}
        groups={[{ fields: [...MARGIN_CODES, 'leastProbability'] }]}
        label={t('organisation.margins')}
        cautions={[t('caution.margins')]}
        submitText={t('organisation.save')}
        isPending={change.isPending}
        onSubmit={(values) => change.mutate({ etag: form.etag, body: toAsked(values) }, { onError: form.takeFailure })}
      />
      <p role="status">{change.isSuccess ? t('organisation.saved') : ''}</p>
    </>
  );
}

/** What is asked of those who sign in. */
function SignInPolicyPanel() {
  const t = useTranslate();
  const may = useMay();
  const toText = useProblemText();
  const query = useApi(routes.signInPolicies.get, {});
  const change = useApiChange(routes.signInPolicies.update);
  return (
    <Panel title={t('signInPolicy.title')}>
      <Loaded query={query}>
        {({ data, etag }) => (
          <>
            <p>{data.demandsSecondFactor ? t('signInPolicy.demanded') : t('signInPolicy.notDemanded')}</p>
            {may(routes.signInPolicies.update) ? (
              <>
                <br />
                <Button
                  disabled={change.isPending}
                  onClick={() =>
                    change.mutate({
                      etag: etag ?? undefined,
                      body: { demandsSecondFactor: !data.demandsSecondFactor },
                    })
                  }
                >
                  {data.demandsSecondFactor ? t('signInPolicy.stop') : t('signInPolicy.demand')}
                </Button>
              </>
            ) : null}
            {change.error === null ? null : (
              <Notice role="alert">
                {isApiError(change.error) && change.error.code === 'request.conflict'
                  ? t('signInPolicy.yourselfFirst')
                  : toText(change.error)}
              </Notice>
            )}
          </>
        )}
      </Loaded>
    </Panel>
  );
}

/** What we ask of every circuit beyond "it just holds". */
export function OrganisationPage() {
  const t = useTranslate();
  const may = useMay();
  const query = useApi(routes.organisations.get, {});
  return (
    <Loaded isPage query={query}>
      {({ data, etag }) => (
        <>
          <PageHead title={t('organisation.title', { name: data.name })} under={t('organisation.under')} />
          <StackedPanels>
            <Panel title={t('organisation.margins')}>
              {may(routes.organisations.update) ? (
                <MarginsForm asked={data} etag={etag} />
              ) : (
                <Facts
                  rows={MARGIN_CODES.map((check) => ({
                    key: check,
                    name: t(`check.${check}.name`),
                    value: `${toPlainText(toPercents(data)[check] ?? 0)} %`,
                  }))}
                />
              )}
            </Panel>
            <SignInPolicyPanel />
            <ProviderPanel />
          </StackedPanels>
        </>
      )}
    </Loaded>
  );
}
