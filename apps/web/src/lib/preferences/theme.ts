export type Theme = 'system' | 'light' | 'dark';
export const THEME_COOKIE = 'kedge-theme';

export function isTheme(text: string | undefined): text is Theme {
  return text === 'system' || text === 'light' || text === 'dark';
}

/** Sets the theme of this document and of the next first paint. */
export function applyTheme(theme: Theme): void {
  document.cookie = `${THEME_COOKIE}=${theme}; Path=/; SameSite=Lax; Max-Age=31536000`;
  if (theme === 'system') delete document.documentElement.dataset['theme'];
  else document.documentElement.dataset['theme'] = theme;
}
