import { routes } from '@repo/contracts';
import { CalculationsPage } from '@/features/calculations';
import { readEarly } from '@/lib/api/read-early';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('nav.calculations');

export default async function Page({ searchParams }: { searchParams: Promise<object> }) {
  // Of the plain page: what else the address may ask for is told by the page itself.
  if (Object.keys(await searchParams).length === 0) {
    await readEarly(routes.calculations.list, {});
  }
  return <CalculationsPage />;
}
