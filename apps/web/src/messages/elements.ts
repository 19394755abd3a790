import type { IntlMessageFormat } from 'intl-messageformat';

/** A message as it was parsed: words, parameters, and plurals whose forms hold messages again. */
export type MessageElements = ReturnType<IntlMessageFormat['getAst']>;
type Element = MessageElements[number];
type Forms = Readonly<Record<string, { value: MessageElements }>>;

const LITERAL: number = 0;
const POUND: number = 7;

export const toWords = (text: string): Element => ({ type: LITERAL, value: text }) as Element;

/** The words of an element that is nothing else. */
export const findWords = (element: Element): string | null =>
  Number(element.type) === LITERAL && 'value' in element ? element.value : null;

/** Name of the parameter that an element stands for. */
export const findParameter = (element: Element): string | null =>
  Number(element.type) === LITERAL || Number(element.type) === POUND || !('value' in element) ? null : element.value;

/** What is said in each case of a plural. */
export const formsOf = (element: Element): MessageElements[] =>
  'options' in element ? Object.values(element.options as Forms).map(({ value }) => value) : [];

/** The element with each of its cases changed. */
export function changeForms(element: Element, change: (message: MessageElements) => MessageElements): Element {
  if (!('options' in element)) return element;
  const forms = Object.entries(element.options as Forms).map(([name, { value }]) => [name, { value: change(value) }]);
  return { ...element, options: Object.fromEntries(forms) } as Element;
}
