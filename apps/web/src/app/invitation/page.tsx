import { InvitationPage } from '@/features/memberships';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('invitation.opening');

export default function Page() {
  return <InvitationPage />;
}
