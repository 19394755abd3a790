import { JoinPanel } from '@/features/identity-providers';
import { AccountPage } from '@/features/users';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.account');

export default function Page() {
  return <AccountPage more={<JoinPanel />} />;
}
