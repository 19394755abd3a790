/** What a key may be at the most: it lets nobody in and makes no keys, so it never administers. */
export const API_KEY_ROLES = ['engineer', 'installer', 'lead'] as const;
