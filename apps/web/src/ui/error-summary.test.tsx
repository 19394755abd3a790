import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { renderToStaticMarkup } from 'react-dom/server';
import { ErrorSummary } from './field';
import { Notice } from './notice';

const SRC = path.resolve(import.meta.dirname, '..');
/** Where something is asked rather than refused, and stands out more. */
const QUESTIONS = ['lib/forms/record-form.tsx'];

const errors = [
  { fieldId: 'setting', text: 'Setting must be a number' },
  { fieldId: null, text: 'Somebody changed it meanwhile' },
];

describe('what stands in the way', () => {
  it('is said at the top, each line leading to its field where it has one', () => {
    const shown = renderToStaticMarkup(
      <ErrorSummary title="2 things stand in the way" summary={{ errors, round: 0 }} />,
    );
    expect(shown).toMatch(/^<div[^>]*role="alert"/);
    expect(shown).toContain('<a href="#setting">Setting must be a number</a>');
    expect(shown).toContain('<li>Somebody changed it meanwhile</li>');
    expect(renderToStaticMarkup(<ErrorSummary title="" summary={{ errors: [], round: 1 }} />)).toBe('');
  });

  it('has one sign in every form and notice, hidden from those who hear the words', () => {
    const sign = /<svg[^>]*aria-hidden="true"/;
    expect(renderToStaticMarkup(<ErrorSummary title="" summary={{ errors, round: 0 }} />)).toMatch(sign);
    expect(renderToStaticMarkup(<Notice role="alert">It was not sent.</Notice>)).toMatch(sign);
    expect(renderToStaticMarkup(<Notice role="status">It was sent.</Notice>)).not.toMatch(sign);
  });

  it('has no other look anywhere', () => {
    const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.tsx'));
    expect(files.length).toBeGreaterThan(100);
    const others = files.filter(
      (file) =>
        !file.startsWith('ui/') &&
        !file.endsWith('.test.tsx') &&
        /<(?:p|div|ul|section|span)\b[^>]*role="alert"/.test(readFileSync(path.join(SRC, file), 'utf8')),
    );
    expect(others).toEqual(QUESTIONS);
  });
});
