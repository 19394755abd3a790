/** The address of a font's file. */
declare module '*.woff2' {
  const address: string;
  export default address;
}
