'use client';

import { routes } from '@repo/contracts';
import { useEffect, useState } from 'react';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { EntryForm, oneTimeCode, useEntryForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { Loaded, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { FirstField } from '@/ui/first-field';
import { Notice } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import styles from './account.module.css';

/** The picture that an authenticator app reads; drawn in the browser, so that the secret goes nowhere else. */
function SecretPicture({ uri }: { uri: string }) {
  const t = useTranslate();
  const [picture, setPicture] = useState<string | null>(null);
  useEffect(() => {
    let isGone = false;
    void import('qrcode').then(async ({ toDataURL }) => {
      const drawn = await toDataURL(uri, { margin: 2, width: 220, color: { dark: '#000000', light: '#ffffff' } });
      if (!isGone) setPicture(drawn);
    });
    return () => {
      isGone = true;
    };
  }, [uri]);
  if (picture === null) return null;
  return <img className={styles['picture']} src={picture} width={220} height={220} alt={t('codes.picture')} />;
}

function RecoveryCodes({ codes, onDone }: { codes: readonly string[]; onDone: () => void }) {
  const t = useTranslate();
  const [isCopied, setCopied] = useState(false);
  return (
    <>
      <Notice role="status">
        <p>{t('codes.keepThese')}</p>
        <ul className={styles['codes']}>
          {codes.map((code) => (
            <li key={code}>
              <code>{code}</code>
            </li>
          ))}
        </ul>
      </Notice>
      <br />
      <FormActions>
        <Button onClick={() => void navigator.clipboard.writeText(codes.join('\n')).then(() => setCopied(true))}>
          {t('codes.copy')}
        </Button>
        <Button look="strong" onClick={onDone}>
          {t('codes.kept')}
        </Button>
        <span role="status">{isCopied ? t('calculations.copied') : ''}</span>
      </FormActions>
    </>
  );
}

const FIELDS = { code: oneTimeCode({ label: 'codes.first' }) };

function SetUp({ secret, uri, onCodes }: { secret: string; uri: string; onCodes: (codes: string[]) => void }) {
  const t = useTranslate();
  const form = useEntryForm({
    name: 'codes',
    fields: FIELDS,
    initial: { code: '' },
    refusals: { 'session.code_wrong': 'code' },
  });
  const confirm = useApiChange(routes.authenticators.confirm, { onDone: ({ data }) => onCodes(data.recoveryCodes) });
  return (
    <FirstField>
      <EntryForm
        form={form}
        label={t('codes.title')}
        look="strong"
        submitText={t('codes.switchOn')}
        onSubmit={(body) => confirm.mutateAsync({ body })}
      >
        <p>{t('codes.scan')}</p>
        <SecretPicture uri={uri} />
        <p>
          {t('codes.orType')} <code className={styles['secret']}>{secret.replace(/(.{4})(?=.)/g, '$1 ')}</code>
        </p>
      </EntryForm>
    </FirstField>
  );
}

/** Setting one-time codes up, from the secret to the recovery codes. */
export function CodesSetUp({ onCodes, onDone }: { onCodes?: () => void; onDone: () => void }) {
  const t = useTranslate();
  const toText = useProblemText();
  const [codes, setCodes] = useState<string[] | null>(null);
  const propose = useApiChange(routes.authenticators.propose);
  const show = (newCodes: string[]): void => {
    onCodes?.();
    setCodes(newCodes);
  };
  const proposed = propose.data?.data;
  if (codes !== null) return <RecoveryCodes codes={codes} onDone={onDone} />;
  if (proposed !== undefined) return <SetUp secret={proposed.secret} uri={proposed.uri} onCodes={show} />;
  return (
    <>
      <p>{t('codes.about')}</p>
      <br />
      <Button look="strong" disabled={propose.isPending} onClick={() => propose.mutate({})}>
        {t('codes.begin')}
      </Button>
      {propose.error === null ? null : <Notice role="alert">{toText(propose.error)}</Notice>}
    </>
  );
}

function Kept({ recoveryCodesLeft }: { recoveryCodesLeft: number }) {
  const t = useTranslate();
  const toText = useProblemText();
  const [codes, setCodes] = useState<string[] | null>(null);
  const renew = useApiChange(routes.authenticators.renewRecoveryCodes, {
    onDone: ({ data }) => setCodes(data.recoveryCodes),
  });
  const remove = useApiChange(routes.authenticators.remove);
  const failure = renew.error ?? remove.error;
  if (codes !== null) return <RecoveryCodes codes={codes} onDone={() => setCodes(null)} />;
  return (
    <>
      <p>{t('codes.left', { count: recoveryCodesLeft })}</p>
      <br />
      <FormActions>
        <Button disabled={renew.isPending} onClick={() => renew.mutate({})}>
          {t('codes.renew')}
        </Button>
        <Button look="plain" disabled={remove.isPending} onClick={() => remove.mutate({})}>
          {t('codes.switchOff')}
        </Button>
      </FormActions>
      {failure === null ? null : <Notice role="alert">{toText(failure)}</Notice>}
    </>
  );
}

export function CodesPanel() {
  const t = useTranslate();
  const [isKeepingCodes, setKeepingCodes] = useState(false);
  const query = useApi(routes.authenticators.get, {});
  return (
    <Panel title={t('codes.title')} note={query.data?.data.isOn === true ? t('codes.on') : t('codes.off')}>
      <Loaded query={query}>
        {({ data }) =>
          // The recovery codes stay until somebody says that they are kept, though the codes are on by then.
          data.isOn && !isKeepingCodes ? (
            <Kept recoveryCodesLeft={data.recoveryCodesLeft} />
          ) : (
            <CodesSetUp onCodes={() => setKeepingCodes(true)} onDone={() => setKeepingCodes(false)} />
          )
        }
      </Loaded>
    </Panel>
  );
}
