/** An instant as text, in UTC. */
export const iso = (ms: number): string => new Date(ms).toISOString();
