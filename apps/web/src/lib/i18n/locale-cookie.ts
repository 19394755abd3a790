/** Keeps the language that a person chose; read by the server for the first paint. */
export const LOCALE_COOKIE = 'kedge-locale';
