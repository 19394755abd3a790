import { SignInPage } from '@/features/users';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('signIn.title');

export default function Page() {
  return <SignInPage />;
}
