import { NotFoundNote } from '@/lib/not-found-note';

export default function NotFound() {
  return <NotFoundNote />;
}
