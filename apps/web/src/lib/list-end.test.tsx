import { SearchParamsContext } from 'next/dist/shared/lib/hooks-client-context.shared-runtime';
import { renderToStaticMarkup } from 'react-dom/server';
import { speakWhole } from '@/messages';
import { en } from '@/messages/en';
import { LocaleProvider } from './i18n/i18n';
import { ListEnd } from './list-end';

speakWhole(en);

function endOf(unreadable: (number | undefined)[], hasNextPage: boolean): string {
  const pages = unreadable.map((count) => (count === undefined ? {} : { unreadable: count }));
  const query = {
    data: { pages, pageParams: [] },
    hasNextPage,
    isFetchingNextPage: false,
    fetchNextPage: () => Promise.reject(new Error('nobody asked for it')),
  };
  return renderToStaticMarkup(
    <SearchParamsContext value={new URLSearchParams()}>
      <LocaleProvider initial="en">
        <ListEnd query={query as unknown as Parameters<typeof ListEnd>[0]['query']} />
      </LocaleProvider>
    </SearchParamsContext>,
  );
}

describe('the end of a list', () => {
  it('says how many records of its pages are left out, and nothing where none is', () => {
    expect(endOf([1, undefined], false)).toContain('1 record is left out');
    expect(endOf([1, 2], false)).toContain('3 records are left out');
    expect(endOf([0, undefined], false)).toBe('');
  });

  it('leads on where there is a next page', () => {
    expect(endOf([0], true)).toContain('Show more');
    expect(endOf([2], false)).not.toContain('Show more');
  });
});
