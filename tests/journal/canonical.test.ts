import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson, finiteNumber, type Json } from '../../source/journal/canonical.ts';

/** The number of an IEEE 754 bit pattern given in hex. */
function double(hex: string): number {
  return Buffer.from(hex, 'hex').readDoubleBE();
}

// RFC 8785, appendix B, "Number Serialization Samples" (from memory of the published table).
const APPENDIX_B: readonly [string, string][] = [
  ['0000000000000000', '0'],
  ['8000000000000000', '0'],
  ['0000000000000001', '5e-324'],
  ['8000000000000001', '-5e-324'],
  ['7fefffffffffffff', '1.7976931348623157e+308'],
  ['ffefffffffffffff', '-1.7976931348623157e+308'],
  ['4340000000000000', '9007199254740992'],
  ['c340000000000000', '-9007199254740992'],
  ['4430000000000000', '295147905179352830000'],
  ['44b52d02c7e14af5', '9.999999999999997e+22'],
  ['44b52d02c7e14af6', '1e+23'],
  ['44b52d02c7e14af7', '1.0000000000000001e+23'],
  ['444b1ae4d6e2ef4e', '999999999999999700000'],
  ['444b1ae4d6e2ef4f', '999999999999999900000'],
  ['444b1ae4d6e2ef50', '1e+21'],
  ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
  ['3eb0c6f7a0b5ed8d', '0.000001'],
  ['41b3de4355555553', '333333333.3333332'],
  ['41b3de4355555554', '333333333.33333325'],
  ['41b3de4355555555', '333333333.3333333'],
  ['41b3de4355555556', '333333333.3333334'],
  ['41b3de4355555557', '333333333.33333343'],
  ['becbf647612f3696', '-0.0000033333333333333333'],
  ['43143ff3c1cb0959', '1424953923781206.2'],
];

// The six inputs and outputs of the author's test suite, cyberphone/json-canonicalization, folder testdata
// (from memory of the files `arrays french structures unicode values weird`).
const AUTHORS_FILES: readonly { name: string; input: string; output: string }[] = [
  {
    name: 'arrays',
    input: '[56,{"d":true,"10":null,"1":[]}]',
    output: '[56,{"1":[],"10":null,"d":true}]',
  },
  {
    name: 'french',
    input:
      '{"peach":"This sorting order","péché":"is wrong according to French","pêche":"but canonicalization MUST","sin":"ignore locale"}',
    output:
      '{"peach":"This sorting order","péché":"is wrong according to French","pêche":"but canonicalization MUST","sin":"ignore locale"}',
  },
  {
    name: 'structures',
    input:
      '{"1":{"f":{"f":"hi","F":5},"\\n":56.0},"10":{},"":"empty","a":{},"111":[{"e":"yes","E":"no"}],"A":{}}',
    output:
      '{"":"empty","1":{"\\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{"E":"no","e":"yes"}],"A":{},"a":{}}',
  },
  {
    name: 'unicode',
    input: '{"Unnormalized Unicode":"A\\u030a"}',
    output: '{"Unnormalized Unicode":"A\u030a"}',
  },
  {
    name: 'values',
    input:
      '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}',
    output:
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  },
  {
    name: 'weird',
    input:
      '{"\\u20ac":"Euro Sign","\\r":"Carriage Return","\\u000a":"Newline","1":"One","\\u0080":"Control\\u007f","\\ud83d\\ude02":"Smiley","\\u00f6":"Latin Small Letter O With Diaeresis","\\ufb33":"Hebrew Letter Dalet With Dagesh","</script>":"Browser Challenge"}',
    output:
      '{"\\n":"Newline","\\r":"Carriage Return","1":"One","</script>":"Browser Challenge","\u0080":"Control\u007f","ö":"Latin Small Letter O With Diaeresis","€":"Euro Sign","😂":"Smiley","\ufb33":"Hebrew Letter Dalet With Dagesh"}',
  },
];

describe('canonical JSON', () => {
  test.each(APPENDIX_B)('the number %s of RFC 8785 appendix B is %s', (hex, expected) => {
    expect(canonicalJson(double(hex), finiteNumber)).toBe(expected);
  });

  test.each(['7fffffffffffffff', '7ff0000000000000'])('the number %s of appendix B is refused', (hex) => {
    expect(() => canonicalJson(double(hex), finiteNumber)).toThrow('no JSON form');
  });

  test.each(AUTHORS_FILES)("the author's file $name comes out as published", ({ input, output }) => {
    expect(canonicalJson(JSON.parse(input) as Json, finiteNumber)).toBe(output);
  });

  // RFC 8785, section 3.2.3: names sort by UTF-16 code units.
  test('names sort by code units, not by code points', () => {
    expect(canonicalJson({ '\ufb33': 1, '\ud83d\ude02': 2 })).toBe('{"\ud83d\ude02":2,"\ufb33":1}');
  });

  class Secret {
    code = '4711';
  }
  test.each<[string, unknown]>([
    ['undefined', { a: undefined }],
    ['a function', { a: () => 1 }],
    ['a date', { a: new Date(0) }],
    ['a map', { a: new Map() }],
    ['a class instance', { a: new Secret() }],
    ['a big integer', { a: 1n }],
    ['a symbol', [Symbol('a')]],
    ['half a character', 'a\ud83d'],
    ['half a character in a name', { '\udc00': 1 }],
    ['a fraction', 0.1],
    ['an unsafe integer', 2 ** 53],
    ['no number', Number.NaN],
    ['infinity', Number.POSITIVE_INFINITY],
    ['a hole in an array', new Array(1)],
  ])('%s throws and is never dropped in silence', (_, value) => {
    expect(() => canonicalJson(value as Json)).toThrow(TypeError);
  });

  test('what JSON.parse gives back is the same value, and its form the same text', () => {
    fc.assert(
      fc.property(fc.jsonValue({ noUnicodeString: false }), (value) => {
        const text = canonicalJson(value as Json, finiteNumber);
        expect(canonicalJson(JSON.parse(text) as Json, finiteNumber)).toBe(text);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
      }),
      { seed: 8785, numRuns: 300 },
    );
  });
});
