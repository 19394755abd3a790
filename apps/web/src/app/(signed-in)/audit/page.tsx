import { AuditPage } from '@/features/audit';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.audit');

export default function Page() {
  return <AuditPage />;
}
