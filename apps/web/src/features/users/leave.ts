'use client';

const KEY = 'kedge-return-to';

/** Leaves for an organisation's own sign-in; whoever comes back goes on at `returnTo`. */
export function leaveFor(url: string, returnTo: string): void {
  sessionStorage.setItem(KEY, returnTo);
  window.location.assign(url);
}

/** Where to go on: only a path of ours. */
export function takeReturnPath(): string {
  const path = sessionStorage.getItem(KEY);
  sessionStorage.removeItem(KEY);
  return path !== null && /^\/(?![/\\])/.test(path) ? path : '/';
}
