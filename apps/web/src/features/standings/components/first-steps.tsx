'use client';

import { routes } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useApiPages } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import type { MessageKey } from '@/messages';
import { Panel } from '@/ui/panel';
import styles from './fleet.module.css';

/** What an empty fleet needs first, with the way to each. */
export function FirstSteps() {
  const t = useTranslate();
  const may = useMay();
  const firstOnly = { query: { limit: 1 } };
  const types = useApiPages(routes.componentTypes.list, firstOnly);
  const customers = useApiPages(routes.customers.list, firstOnly);
  const machines = useApiPages(routes.machines.list, firstOnly);
  const machine = machines.items[0];
  const steps: { key: string; title: MessageKey; text: MessageKey; href: string; hasSome: boolean | null }[] = [
    {
      key: 'customers',
      title: 'first.customers',
      text: 'first.customers.text',
      href: '/customers',
      hasSome: customers.items.length > 0,
    },
    {
      key: 'machine',
      title: 'first.machine',
      text: 'first.machine.text',
      href: machine === undefined ? '/customers' : `/machines/${machine.id}`,
      hasSome: machine !== undefined,
    },
    {
      key: 'types',
      title: 'first.types',
      text: 'first.types.text',
      href: '/component-types',
      hasSome: types.items.length > 0,
    },
    ...(may(routes.invitations.create)
      ? [
          {
            key: 'people',
            title: 'first.people',
            text: 'first.people.text',
            href: '/people',
            hasSome: null,
          } as const,
        ]
      : []),
  ];
  return (
    <Panel title={t('first.title')}>
      <ol className={styles['first']}>
        {steps.map((step) => (
          <li key={step.key}>
            <Link href={step.href}>{t(step.title)}</Link>
            {step.hasSome === null ? null : <small> {t(step.hasSome ? 'first.count.some' : 'first.count.none')}</small>}
            <p>{t(step.text)}</p>
          </li>
        ))}
      </ol>
    </Panel>
  );
}
