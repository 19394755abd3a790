const BASE = '/api/v1';

/** The address of a route, its parameters filled in; what has no value is left out. */
export function toUrl(path: string, params: Readonly<Record<string, string>>, query: unknown): string {
  const filled = path.replace(/\{(\w+)\}|:(\w+)/g, (_whole, braced: string | undefined, coloned: string | undefined) =>
    encodeURIComponent(params[braced ?? coloned ?? ''] ?? ''),
  );
  const search = new URLSearchParams();
  if (typeof query === 'object' && query !== null) {
    for (const [name, value] of Object.entries(query)) {
      if (value === undefined || value === null || value === '') continue;
      if (Array.isArray(value)) for (const item of value) search.append(name, String(item));
      else search.set(name, String(value));
    }
  }
  const text = search.toString();
  return `${BASE}${filled}${text === '' ? '' : `?${text}`}`;
}
