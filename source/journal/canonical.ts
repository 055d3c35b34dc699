/** What a record may carry. Numbers are safe integers in a small unit (milliohms, millivolts). */
export type Json = null | boolean | number | string | readonly Json[] | JsonObject;
export type JsonObject = { readonly [key: string]: Json };

const LONE_SURROGATE = /\p{Surrogate}/u;

/** Number form of a record: safe integers only, because two programs may round a fraction differently. */
function safeInteger(value: number): string {
  if (!Number.isSafeInteger(value))
    throw new TypeError(`${value} is not a safe integer. Use a smaller unit.`);
  return String(value + 0);
}

/** Number form of RFC 8785, section 3.2.2.3: any finite number as ECMAScript prints it. */
export function finiteNumber(value: number): string {
  if (!Number.isFinite(value)) throw new TypeError(`${value} has no JSON form.`);
  return JSON.stringify(value);
}

/**
 * The one spelling of a JSON value that RFC 8785 (JSON Canonicalization Scheme) allows: keys in order of their
 * UTF-16 code units, no spaces. What JSON cannot carry faithfully throws, so that nothing is dropped in silence
 * and an object that holds a secret in a class cannot slip into a record.
 *
 * @throws TypeError on undefined, functions, dates, class instances, lone surrogates and, unless `number` allows
 *   them, on anything but safe integers
 * @example canonicalJson({ b: 1, a: [true, null] }) // => '{"a":[true,null],"b":1}'
 */
export function canonicalJson(value: Json, number: (value: number) => string = safeInteger): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'number') return number(value);
  if (typeof value === 'string') return canonicalString(value);
  let text = '';
  if (Array.isArray(value)) {
    // By index, so that a hole in the array is seen.
    for (let i = 0; i < value.length; i += 1) text += `,${canonicalJson(value[i] as Json, number)}`;
    return `[${text.slice(1)}]`;
  }
  if (!isPlainObject(value)) throw new TypeError(`${nameOf(value)} has no place in a record.`);
  for (const key of Object.keys(value).sort())
    text += `,${canonicalString(key)}:${canonicalJson(value[key] as Json, number)}`;
  return `{${text.slice(1)}}`;
}

function canonicalString(value: string): string {
  if (LONE_SURROGATE.test(value)) throw new TypeError('A text holds half a character (a lone surrogate).');
  return JSON.stringify(value);
}

function isPlainObject(value: unknown): value is JsonObject {
  if (typeof value !== 'object' || value === null) return false;
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}

function nameOf(value: unknown): string {
  if (typeof value !== 'object' || value === null) return typeof value;
  return `An object of class ${value.constructor?.name ?? '?'}`;
}
