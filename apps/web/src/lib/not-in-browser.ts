/** Stands in for a module of Node that a library names but never reaches in a browser. */
export function createRequire(): never {
  throw new Error('There is no Node here.');
}
