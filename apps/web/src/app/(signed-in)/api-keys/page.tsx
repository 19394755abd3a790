import { ApiKeysPage } from '@/features/api-keys';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.apiKeys');

export default function Page() {
  return <ApiKeysPage />;
}
