/** Longer inputs (hundreds of load cases) go behind the #, which no server has to take in. */
const LONGEST_QUERY = 4000;
const NAME = 'inputs';

/** Inputs of a link as an object; what is no such thing counts as none. */
export function parseInputs(text: string | null): Record<string, unknown> | null {
  if (text === null) return null;
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null && !Array.isArray(value) ? { ...value } : null;
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/** The inputs that the page was opened with. */
export function readLinkedInputs(): Record<string, unknown> | null {
  const { search, hash } = window.location;
  const behind = new URLSearchParams(hash.slice(1)).get(NAME);
  return parseInputs(behind ?? new URLSearchParams(search).get(NAME));
}

/** The address that opens the page with these inputs; null: with none. */
export function toLink(url: string, text: string | null): string {
  const link = new URL(url);
  link.searchParams.delete(NAME);
  link.hash = '';
  if (text === null) return link.href;
  if (text.length <= LONGEST_QUERY) link.searchParams.set(NAME, text);
  else link.hash = new URLSearchParams({ [NAME]: text }).toString();
  return link.href;
}

export function writeLinkedInputs(text: string | null): void {
  const link = toLink(window.location.href, text);
  if (link !== window.location.href) window.history.replaceState(null, '', link);
}
