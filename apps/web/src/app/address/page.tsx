import { AddressPage } from '@/features/users';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('address.title');

export default function Page() {
  return <AddressPage />;
}
