/** How bytes can travel, best first. */
export const CODINGS = ['br', 'gzip'] as const;
export type Coding = (typeof CODINGS)[number];

/** What is sent as it is comes last where nobody says otherwise: above "never", below all that is named. */
const UNNAMED_IDENTITY = 0.0001;

/** Weights by coding, as Accept-Encoding gives them (RFC 9110, 12.5.3); one that cannot be read counts as 1. */
function readWeights(header: string): ReadonlyMap<string, number> {
  return new Map(
    header.split(',').flatMap((part): [string, number][] => {
      const [name = '', ...parameters] = part.split(';').map((piece) => piece.trim().toLowerCase());
      if (name === '') return [];
      const q = parameters.find((parameter) => parameter.startsWith('q='))?.slice(2);
      const weight = q === undefined ? 1 : Number(q);
      return [[name, weight >= 0 && weight <= 1 ? weight : 1]];
    }),
  );
}

/** The coding that a reader likes best of those there are; null for none. Whoever does not say takes the bytes as they are. */
export function chooseCoding(header: string | undefined, available: readonly Coding[] = CODINGS): Coding | null {
  if (header === undefined) return null;
  const weights = readWeights(header);
  const others = weights.get('*');
  const identity = weights.get('identity') ?? Math.min(others ?? 1, UNNAMED_IDENTITY);
  let best: Coding | null = null;
  let most = identity;
  for (const coding of available) {
    const weight = weights.get(coding) ?? others ?? 0;
    // Of equals the compressed one, and of those the better.
    if (weight > 0 && (best === null ? weight >= most : weight > most)) [best, most] = [coding, weight];
  }
  return best;
}
