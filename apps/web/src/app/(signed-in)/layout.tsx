import type { ReactNode } from 'react';
import { AppFrame } from '@/features/users';

export default function SignedInLayout({ children }: { children: ReactNode }) {
  return <AppFrame>{children}</AppFrame>;
}
