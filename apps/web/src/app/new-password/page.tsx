import { NewPasswordPage } from '@/features/users';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('newPassword.title');

export default function Page() {
  return <NewPasswordPage />;
}
