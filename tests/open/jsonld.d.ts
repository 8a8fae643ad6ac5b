/** The little of jsonld that the tests use; it ships no types. */
declare module 'jsonld' {
  interface Loaded {
    readonly contextUrl: undefined;
    readonly documentUrl: string;
    readonly document: object;
  }
  const jsonld: {
    expand(
      document: object,
      options: { readonly base: string; readonly documentLoader: (url: string) => Promise<Loaded> },
    ): Promise<readonly Record<string, unknown>[]>;
  };
  export default jsonld;
}
