import { routes } from '@repo/contracts';
import type { ReactNode } from 'react';
import { AppFrame } from '@/features/users';
import { readEarly } from '@/lib/api/read-early';

export default async function SignedInLayout({ children }: { children: ReactNode }) {
  await readEarly(routes.users.me, {});
  return <AppFrame>{children}</AppFrame>;
}
