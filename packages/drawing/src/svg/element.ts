/**
 * A drawing as plain data: the browser turns it into elements, the server into text.
 * Attribute names are those of SVG (`stroke-width`, `aria-label`), values are strings or numbers.
 */
export interface SvgElement {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly SvgNode[];
}

export type SvgNode = SvgElement | string;

export type SvgAttributes = Readonly<Record<string, string | number | undefined>>;

/** Makes an element; attributes that are `undefined` are left out. */
export function toElement(
  tag: string,
  attributes: SvgAttributes,
  ...children: readonly (SvgNode | null)[]
): SvgElement {
  const kept: Record<string, string | number> = {};
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== undefined) kept[name] = typeof value === 'number' ? toTidyNumber(value) : value;
  }
  return { tag, attributes: kept, children: children.filter((child) => child !== null) };
}

/** Two decimals are finer than any screen or printer shows; the same drawing is then the same text everywhere. */
export function toTidyNumber(value: number): number {
  const rounded = Math.round(value * 100) / 100;
  return rounded === 0 ? 0 : rounded;
}

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

// Control characters are not allowed in XML 1.0 (section 2.2), escaped or not: a name typed with one must not break a file.
const FORBIDDEN = new RegExp('[\\u0000-\\u0008\\u000b\\u000c\\u000e-\\u001f\\ufffe\\uffff]', 'g');

function toEscaped(text: string): string {
  return text.replace(FORBIDDEN, '').replace(/[&<>"']/g, (character) => ESCAPES[character] ?? character);
}

/** The drawing as text. The root gets its XML namespace, so that it also stands alone as a file. */
export function toSvgString(element: SvgElement): string {
  return toText({ ...element, attributes: { xmlns: 'http://www.w3.org/2000/svg', ...element.attributes } });
}

function toText(node: SvgNode): string {
  if (typeof node === 'string') return toEscaped(node);
  const attributes = Object.entries(node.attributes)
    .map(([name, value]) => ` ${name}="${toEscaped(String(value))}"`)
    .join('');
  if (node.children.length === 0) return `<${node.tag}${attributes}/>`;
  return `<${node.tag}${attributes}>${node.children.map(toText).join('')}</${node.tag}>`;
}
