/**
 * A function that works out its answer once for each argument. For readings of what never changes (a survey,
 * a wiring), so that asking costs nothing and nobody carries indexes around.
 */
export function remember<K extends object, V>(compute: (of: K) => V): (of: K) => V {
  const known = new WeakMap<K, { readonly value: V }>();
  return (of) => {
    const found = known.get(of) ?? { value: compute(of) };
    known.set(of, found);
    return found.value;
  };
}
