import { CustomersPage } from '@/features/customers';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.customers');

export default function Page() {
  return <CustomersPage />;
}
