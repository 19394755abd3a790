'use client';

import { routes, type Me, type Role, type Route } from '@repo/contracts';
import { useRouter, usePathname } from 'next/navigation';
import { createContext, useContext, useEffect, useMemo, useState, type ReactNode } from 'react';
import { useApi } from '@/lib/api/hooks';
import { isApiError } from '@/lib/api/problem';
import { useTranslate } from '@/lib/i18n/i18n';
import { isPressureUnit } from '@/lib/quantity/format';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { applyTheme } from '@/lib/preferences/theme';
import { FailedNote } from '@/lib/states';
import { LoadingNote } from '@/ui/notice';

interface Session {
  me: Me;
  etag: string | null;
}

const SessionContext = createContext<Session | null>(null);

/** Who is signed in. Only inside `SessionProvider`. */
export function useSession(): Session {
  const session = useContext(SessionContext);
  if (session === null) throw new Error('useSession needs a SessionProvider above it');
  return session;
}

export function useRole(): Role {
  return useSession().me.membership.role;
}

/** Whether the person's role may call a route; the contract says so once, for the service and for what the pages offer. */
export function useMay(): (route: Route) => boolean {
  const role = useRole();
  return ({ access }) => typeof access === 'string' || access.includes(role);
}

export const isCustomerRole = (role: Role): boolean => role === 'viewer' || role === 'customer-administrator';

/** Waits for the session; without one the way leads to the sign-in page and back. */
export function SessionProvider({ children }: { children: ReactNode }) {
  const t = useTranslate();
  const router = useRouter();
  const path = usePathname();
  const query = useApi(routes.users.me, {});
  const { unit: shownUnit, setUnit } = usePressureUnit();
  const me = query.data?.data;
  const isSignedOut = isApiError(query.error) && query.error.status === 401 && me === undefined;

  useEffect(() => {
    if (isSignedOut) router.replace(`/sign-in?next=${encodeURIComponent(path + window.location.search)}`);
  }, [isSignedOut, path, router]);

  const unit = me?.pressureUnit;
  const theme = me?.theme;
  // The cookie has said it already, as a rule; where it says another, the page waits a moment rather than change its figures.
  const [applied, setApplied] = useState(unit !== undefined && unit === shownUnit);
  useEffect(() => {
    if (unit !== undefined && isPressureUnit(unit)) setUnit(unit);
    if (theme !== undefined) applyTheme(theme);
    if (unit !== undefined) setApplied(true);
    // The person's own record speaks when it comes or changes, not whenever the context does.
    // (`setUnit` changes with the unit; depending on it would undo a switch that is on its way to the server.)
  }, [unit, theme]);

  const etag = query.data?.etag ?? null;
  const session = useMemo(() => (me === undefined ? null : { me, etag }), [me, etag]);
  if (session !== null && applied) return <SessionContext value={session}>{children}</SessionContext>;
  if (query.error !== null && !isSignedOut) {
    return <FailedNote isPage error={query.error} onRetry={() => void query.refetch()} />;
  }
  return <LoadingNote text={t('state.loading')} />;
}
