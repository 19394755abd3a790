'use client';

import { routes, type Role, type Route } from '@repo/contracts';
import { useQueryClient } from '@tanstack/react-query';
import { Link } from '@/ui/link';
import { usePathname, useRouter } from 'next/navigation';
import { useEffect, useState, useSyncExternalStore, type ReactNode } from 'react';
import { callApi } from '@/lib/api/client';
import { proofGate, signInGate } from '@/lib/api/gates';
import { dropDraftsOf } from '@/lib/drafts/draft-store';
import { UnsentNote } from '@/lib/drafts/unsent-note';
import { useTranslate } from '@/lib/i18n/i18n';
import { late } from '@/lib/late';
import { isCustomerRole, SessionProvider, useMay, useSession } from '@/lib/session/session';
import { speakWhole, type MessageKey } from '@/messages';
import { en } from '@/messages/en';
import { ButtonLink } from '@/ui/button';
import { StateNote } from '@/ui/notice';
import { useIsReady } from '@/ui/use-is-ready';
import styles from './app-frame.module.css';

const SecondFactorPage = late(() => import('./second-factor-page').then((file) => file.SecondFactorPage));
const SignInDialog = late(() => import('./sign-in-dialog').then((file) => file.SignInDialog));
const ProofDialog = late(() => import('./proof-dialog').then((file) => file.ProofDialog));

// Before any page inside is drawn.
speakWhole(en);

interface Place {
  href: string;
  key: MessageKey;
  /** shown to whoever may call it */
  route?: Route;
  /** what the page is about, where it is shown to fewer than may open it */
  read?: Route;
}

const STAFF_PLACES: readonly Place[] = [
  { href: '/fleet', key: 'nav.fleet' },
  { href: '/issues', key: 'nav.issues' },
  { href: '/customers', key: 'nav.customers' },
  { href: '/sources', key: 'nav.sources', route: routes.sources.list },
  { href: '/component-types', key: 'nav.componentTypes', route: routes.componentTypes.list },
  { href: '/imports', key: 'nav.imports', route: routes.imports.list },
  { href: '/jobs', key: 'nav.jobs', route: routes.jobs.list },
  { href: '/calculations', key: 'nav.calculations' },
  { href: '/people', key: 'nav.people', route: routes.invitations.create, read: routes.memberships.list },
  { href: '/api-keys', key: 'nav.apiKeys', route: routes.apiKeys.list },
  {
    href: '/organisation',
    key: 'nav.organisation',
    route: routes.organisations.update,
    read: routes.organisations.get,
  },
  { href: '/audit', key: 'nav.audit', route: routes.auditEntries.list },
  { href: '/reference', key: 'nav.reference' },
];
const CUSTOMER_PLACES: readonly Place[] = [
  { href: '/portal', key: 'nav.portal' },
  { href: '/issues', key: 'nav.issuesOfCustomer' },
  { href: '/calculations', key: 'nav.calculations' },
];

const listPlaces = (role: Role) => (isCustomerRole(role) ? CUSTOMER_PLACES : STAFF_PLACES);

function subscribeOnline(notify: () => void): () => void {
  window.addEventListener('online', notify);
  window.addEventListener('offline', notify);
  return () => {
    window.removeEventListener('online', notify);
    window.removeEventListener('offline', notify);
  };
}

function OfflineNote() {
  const t = useTranslate();
  const isOnline = useSyncExternalStore(
    subscribeOnline,
    () => navigator.onLine,
    () => true,
  );
  return <div role="status">{isOnline ? null : <p className={styles['offline']}>{t('state.offline.note')}</p>}</div>;
}

function Side() {
  const t = useTranslate();
  const path = usePathname();
  const router = useRouter();
  const client = useQueryClient();
  const { me } = useSession();
  const may = useMay();
  const [isOpen, setOpen] = useState(false);
  useEffect(() => setOpen(false), [path]);

  const signOut = async (): Promise<void> => {
    await callApi(routes.users.signOut, {});
    sessionStorage.clear();
    dropDraftsOf(localStorage, me.userId);
    client.clear();
    router.replace('/sign-in');
  };

  return (
    <header className={styles['side']} data-open={isOpen ? '' : undefined}>
      <div className={styles['bar']}>
        <Link className={styles['name']} href="/">
          {t('app.name')}
        </Link>
        <button type="button" aria-expanded={isOpen} aria-controls="places" onClick={() => setOpen(!isOpen)}>
          {isOpen ? t('nav.close') : t('nav.menu')}
        </button>
      </div>
      <Link className={`${styles['name']} ${styles['wideName']}`} href="/">
        {t('app.name')}
      </Link>
      <nav className={styles['nav']} id="places" aria-label={t('nav.label')}>
        {listPlaces(me.membership.role)
          .filter(({ route }) => route === undefined || may(route))
          .map(({ href, key }) => (
            <Link key={href} href={href} aria-current={path.startsWith(href) ? 'page' : undefined}>
              {t(key)}
            </Link>
          ))}
      </nav>
      <div className={styles['foot']}>
        <p>
          {me.displayName}
          <br />
          {t(`role.${me.membership.role}`)}
          <br />
          {me.membership.organisationName}
        </p>
        <div className={styles['nav']}>
          <Link href="/account" aria-current={path === '/account' ? 'page' : undefined}>
            {me.unseenNotices > 0 ? t('nav.accountUnseen', { count: me.unseenNotices }) : t('nav.account')}
          </Link>
          <button type="button" onClick={() => void signOut()}>
            {t('nav.signOut')}
          </button>
        </div>
      </div>
    </header>
  );
}

function Invented() {
  const t = useTranslate();
  const { me } = useSession();
  return me.isInvented ? <p className={styles['invented']}>{t('app.invented')}</p> : null;
}

/** Instead of a page that a role may not read: neither its heading nor its buttons are for them. */
function NoRight() {
  const t = useTranslate();
  return (
    <StateNote
      role="alert"
      isPage
      title={t('state.noRight.title')}
      actions={<ButtonLink href="/">{t('state.home')}</ButtonLink>}
    >
      {t('state.noRight.text')}
    </StateNote>
  );
}

/** The page, or what has to be done before any page can be seen. */
function Content({ children }: { children: ReactNode }) {
  const { me } = useSession();
  const may = useMay();
  const path = usePathname();
  const isDemanded = me.secondFactorDemanded && !me.hasSecondFactor;
  // It stays after the factor is there: the recovery codes are shown only now.
  const [isSettingUp, setSettingUp] = useState(isDemanded);
  if (isDemanded && !isSettingUp) setSettingUp(true);
  if (isSettingUp) return <SecondFactorPage onDone={() => setSettingUp(false)} />;
  const place = STAFF_PLACES.find(({ href }) => path === href || path.startsWith(`${href}/`));
  const read = place?.read ?? place?.route;
  return read === undefined || may(read) ? children : <NoRight />;
}

/** What comes over any page before a request goes on. */
function Gates() {
  const [isSignInAsked, askSignIn] = useState(false);
  const [isProofAsked, askProof] = useState(false);
  useEffect(() => signInGate.register(askSignIn), []);
  useEffect(() => proofGate.register(askProof), []);
  return (
    <>
      {isSignInAsked ? <SignInDialog /> : null}
      {isProofAsked ? <ProofDialog /> : null}
    </>
  );
}

/**
 * By itself, so that nothing in it is drawn again when it can be used. Until then it can be read, and a search field can be typed into,
 * which takes that over.
 */
function Frame({ children }: { children: ReactNode }) {
  const isReady = useIsReady();
  return (
    <div className={styles['frame']} data-waiting={isReady ? undefined : ''}>
      {children}
    </div>
  );
}

/** What stands around every page of a person who is signed in. */
export function AppFrame({ children }: { children: ReactNode }) {
  return (
    <SessionProvider>
      <Frame>
        <Side />
        <main id="main" tabIndex={-1} className={styles['main']}>
          <OfflineNote />
          <Invented />
          <UnsentNote />
          <Content>{children}</Content>
        </main>
      </Frame>
      <Gates />
    </SessionProvider>
  );
}
