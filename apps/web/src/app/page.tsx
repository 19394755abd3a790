import { HomeRedirect } from '@/features/users';

export default function HomePage() {
  return <HomeRedirect />;
}
