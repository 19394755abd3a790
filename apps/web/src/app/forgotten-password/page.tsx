import { ForgottenPasswordPage } from '@/features/users';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('forgotten.title');

export default function Page() {
  return <ForgottenPasswordPage />;
}
