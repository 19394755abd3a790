import { IntlMessageFormat, type Formatters } from 'intl-messageformat';
import { changeForms, findParameter, formsOf, toWords, type MessageElements } from './elements';
import { findByTag } from './languages';

// The library asks which of its languages the platform writes numbers in, which takes as long as fetching them; ours are all known.
IntlMessageFormat.resolveLocale = (tag) => new Intl.Locale(Array.isArray(tag) ? (tag[0] ?? '') : tag);

export interface Sentence {
  /** what stands between words, and where it stands */
  message: MessageElements;
  parameters: ReadonlySet<string>;
  format: IntlMessageFormat;
}

function remember<T>(make: (tag: string, options?: object) => T): (tag: string, options?: object) => T {
  const made = new Map<string, T>();
  return (tag, options) => {
    const key = options === undefined ? tag : `${tag} ${JSON.stringify(options)}`;
    const known = made.get(key) ?? make(tag, options);
    made.set(key, known);
    return known;
  };
}

/** Writes whole numbers as the platform does, without asking it where the language says how. */
function wholeNumbers(tag: string): Pick<Intl.NumberFormat, 'format'> {
  const between = findByTag(tag).thousands;
  let platform: Intl.NumberFormat | undefined;
  return {
    format: (value) => {
      if (between !== undefined && Number.isSafeInteger(value) && !Object.is(value, -0)) {
        return String(value).replaceAll(/\B(?=(?:\d{3})+$)/g, between);
      }
      platform ??= new Intl.NumberFormat(tag);
      return platform.format(value);
    },
  };
}

/** The form that a count takes; which one of a row of things takes (`ordinal`) the platform alone knows. */
function pluralRules(tag: string, options: Intl.PluralRulesOptions | undefined): Pick<Intl.PluralRules, 'select'> {
  const { toPlural } = findByTag(tag);
  if (toPlural !== undefined && options?.type !== 'ordinal') return { select: toPlural };
  return new Intl.PluralRules(tag, options);
}

/** Making these is what costs; all messages share them. */
const formatters = {
  getNumberFormat: remember((tag, options) =>
    options === undefined ? wholeNumbers(tag) : new Intl.NumberFormat(tag, options),
  ),
  getDateTimeFormat: remember((tag, options) => new Intl.DateTimeFormat(tag, options)),
  getPluralRules: remember(pluralRules),
} as Formatters;
// Nothing in a message is markup.
const OPTIONS = { formatters, ignoreTag: true };

/** Names of all parameters, those in the forms of a plural included. */
const listParameters = (message: MessageElements): string[] =>
  message.flatMap((element) => {
    const name = findParameter(element);
    return [...(name === null ? [] : [name]), ...formsOf(element).flatMap(listParameters)];
  });

/** Reads a message in ICU's syntax. One that is not well-formed throws. */
export function parseSentence(
  text: string,
  tag: string,
  alter: (message: MessageElements) => MessageElements = (message) => message,
): Sentence {
  const asWritten = new IntlMessageFormat(text, tag, undefined, OPTIONS);
  const message = alter(asWritten.getAst());
  return {
    message,
    parameters: new Set(listParameters(message)),
    format: message === asWritten.getAst() ? asWritten : new IntlMessageFormat(message, tag, undefined, OPTIONS),
  };
}

/** A parameter that was forgotten stays where it is seen, and so is found. */
const showForgotten = (message: MessageElements, isGiven: (name: string) => boolean): MessageElements =>
  message.map((element) => {
    const name = findParameter(element);
    if (name !== null && !isGiven(name)) return toWords(`{${name}}`);
    return changeForms(element, (form) => showForgotten(form, isGiven));
  });

/** The sentence with its parameters in it; in pieces, since a parameter may be an element of the page. */
export function saySentence<T>(
  { format, message, parameters }: Sentence,
  tag: string,
  values: Readonly<Record<string, T | string | number>>,
): readonly (T | string)[] {
  const isGiven = (name: string): boolean => values[name] !== undefined;
  const isWhole = [...parameters].every(isGiven);
  const formatted = isWhole ? format : new IntlMessageFormat(showForgotten(message, isGiven), tag, undefined, OPTIONS);
  return formatted.formatToParts<T>({ ...values }).map(({ value }) => value);
}
