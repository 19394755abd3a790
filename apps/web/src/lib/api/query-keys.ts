import type { Route } from '@repo/contracts';

/** Under what an answer is kept: parts of a page that ask the same share it, and what the server has read is found there. */
export const toQueryKey = (route: Route, call: object) => [route.id, call] as const;

/** The same for a list that is read page after page. */
export const toPagesKey = (route: Route, call: object) => [route.id, 'pages', call] as const;
