'use client';

import { routes, type SourceDetail } from '@repo/contracts';
import { useState, type ComponentProps } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { FormDialog, number, RecordForm, useRecordForm } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { Panel } from '@/ui/panel';
import { NewSourceForm } from './source-form';
import styles from './sources.module.css';

/** A secret while it can be seen: in memory alone, gone with the dialog. */
function ShownSecret({ secret, onClose }: { secret: string | null; onClose: () => void }) {
  const t = useTranslate();
  const [isCopied, setCopied] = useState(false);
  return (
    <Dialog isOpen={secret !== null} onClose={onClose} closeText={t('action.close')} title={t('sources.secretShown')}>
      <p>{t('sources.secretShownText')}</p>
      <p>
        <code className={styles['secret']}>{secret}</code>
      </p>
      <Button
        look="strong"
        onClick={() => {
          void navigator.clipboard.writeText(secret ?? '').then(() => setCopied(true));
        }}
      >
        {isCopied ? t('sources.copied') : t('sources.copy')}
      </Button>
    </Dialog>
  );
}

export function AddSource({ look }: { look: ComponentProps<typeof Button>['look'] }) {
  const t = useTranslate();
  const [secret, setSecret] = useState<string | null>(null);
  return (
    <>
      <FormDialog look={look} action={t('sources.add')} title={t('sources.add')}>
        {(close) => (
          <NewSourceForm
            onDone={(made) => {
              close();
              setSecret(made);
            }}
          />
        )}
      </FormDialog>
      <ShownSecret secret={secret} onClose={() => setSecret(null)} />
    </>
  );
}

const FIELDS = {
  overlapHours: number({
    typedIn: 'h',
    label: 'sources.overlap',
    hint: 'sources.overlapHint',
    isRequired: true,
    least: 0,
    most: 720,
  }),
};
const GROUPS = [{ fields: ['overlapHours'] }] as const;

function RotateForm({ sourceId, onDone }: { sourceId: string; onDone: (secret: string) => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `source-secret-${sourceId}`,
    fields: FIELDS,
    initial: { overlapHours: 24 as number | null },
  });
  const rotate = useApiChange(routes.sources.rotateSecret, {
    onDone: form.clearThen(({ data }) => onDone(data.secret)),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('sources.rotate')}
      submitText={t('sources.rotate')}
      isPending={rotate.isPending}
      onSubmit={({ overlapHours }) =>
        rotate.mutate(
          { params: { id: sourceId }, body: { overlapHours: overlapHours ?? 24 } },
          { onError: form.takeFailure },
        )
      }
    />
  );
}

/** Which secrets live, without their values, and how a new one is made. */
export function SecretsPanel({ source }: { source: SourceDetail }) {
  const t = useTranslate();
  const dates = useDates();
  const may = useMay();
  const [secret, setSecret] = useState<string | null>(null);
  if (!may(routes.sources.rotateSecret)) return null;
  return (
    <Panel title={t('sources.secrets')}>
      <ul className={styles['list']}>
        {source.secrets.map((one) => (
          <li key={one.id}>
            {t('sources.secretMade', { date: dates.atTime(one.createdAt) })}
            <span>
              {one.expiresAt === null
                ? t('sources.secretStays')
                : t('sources.secretEnds', { date: dates.atTime(one.expiresAt) })}
            </span>
          </li>
        ))}
      </ul>
      <p className={styles['quiet']}>{t('sources.secretNote')}</p>
      {source.archivedAt === null ? (
        <FormDialog action={t('sources.rotate')} title={t('sources.rotate')}>
          {(close) => (
            <RotateForm
              sourceId={source.id}
              onDone={(made) => {
                close();
                setSecret(made);
              }}
            />
          )}
        </FormDialog>
      ) : null}
      <ShownSecret secret={secret} onClose={() => setSecret(null)} />
    </Panel>
  );
}
