/** Something read from text, or one sentence of what is so and one of what to do. */
export type Parsed<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly says: string };
