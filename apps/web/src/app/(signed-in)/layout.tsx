import { routes } from '@repo/contracts';
import type { ReactNode } from 'react';
import { AppFrame } from '@/features/users';
import { FirstData } from '@/lib/api/first-data';
import { firstOf } from '@/lib/api/first-read';

export default function SignedInLayout({ children }: { children: ReactNode }) {
  return (
    <FirstData reads={[firstOf(routes.users.me, {})]}>
      <AppFrame>{children}</AppFrame>
    </FirstData>
  );
}
