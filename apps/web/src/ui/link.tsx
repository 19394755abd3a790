import NextLink from 'next/link';
import type { ComponentProps } from 'react';

/**
 * A way to another page, which is fetched when somebody goes there: pages are made for each request, so that what could be fetched
 * ahead of them is their frame alone, and a list of a hundred machines would ask for a hundred of those.
 */
export function Link(props: Omit<ComponentProps<typeof NextLink>, 'prefetch'>) {
  return <NextLink {...props} prefetch={false} />;
}
