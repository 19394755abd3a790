import type { PressureLadder } from '@repo/contracts';
import { SearchParamsContext } from 'next/dist/shared/lib/hooks-client-context.shared-runtime';
import { renderToStaticMarkup } from 'react-dom/server';
import { speakWhole } from '../../messages';
import { en } from '../../messages/en';
import { LocaleProvider } from '../i18n/i18n';
import { PressureUnitProvider } from '../quantity/pressure-unit';
import { CheckSentence } from './sentences';

speakWhole(en);

type ProvedCheck = PressureLadder['checks'][number];
const margin = { demandPa: 152e5, capacityPa: 190e5, marginPa: 38e5 };
const check = (change: Partial<ProvedCheck>): ProvedCheck => ({
  ...{ code: 'highest-within-rating', status: 'holds', reason: 'holds' },
  subject: { entity: 'installed-component', id: 'relief', name: 'Relief of line 1' },
  ...{ nominal: margin, stated: margin, worstCase: margin, ratio: 0.8, marginAsked: 0, probability: 1 },
  ...{ missing: [], parameters: {}, source: 'pressure-chain' },
  ...change,
});
const say = (change: Partial<ProvedCheck>): string =>
  renderToStaticMarkup(
    <SearchParamsContext value={new URLSearchParams()}>
      <LocaleProvider initial="en">
        <PressureUnitProvider initial="bar">
          <CheckSentence check={check(change)} />
        </PressureUnitProvider>
      </LocaleProvider>
    </SearchParamsContext>,
  ).replaceAll(/<[^>]*>/g, '');

describe('the sentence of the highest possible pressure', () => {
  it.each([
    ['holds', 'holds'],
    ['marginal', 'inside-margin'],
    ['marginal', 'gauge-error-decides'],
    ['fails', 'relief-opens-below-setting'],
  ] as const)('where the opening of a relief decides and it %s (%s), says that it opens', (status, reason) => {
    const text = say({ governing: 'relief-opening', status, reason });
    expect(text).toMatch(/^Relief of line 1 begins to open at 190/);
    expect(text).not.toMatch(/bears|is rated/);
  });

  it('says what a component bears where its rating decides', () => {
    expect(say({ governing: 'source' })).toMatch(/can rise to 152.*bears 190/);
  });
});
