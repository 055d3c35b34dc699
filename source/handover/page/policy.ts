/** Nothing is fetched and nothing runs: a page is only what is in it. */
export const POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
