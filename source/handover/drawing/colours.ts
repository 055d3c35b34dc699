/**
 * Insulation colours as they are drawn. A colour is only ever a help: each conductor also carries its name,
 * and function is never read off a colour (common practice, no standard binds alarm-cable colours).
 */
const INSULATION: Readonly<Record<string, string>> = {
  black: '#222222',
  brown: '#7a4a21',
  red: '#c23a30',
  orange: '#e8731a',
  yellow: '#f2cf1d',
  green: '#33773f',
  blue: '#1e5fb4',
  violet: '#7b3fa0',
  purple: '#7b3fa0',
  grey: '#8c8c8c',
  gray: '#8c8c8c',
  white: '#ffffff',
  pink: '#ef9ab8',
  turquoise: '#2ab7b0',
};

/** The drawn colour of insulation named in words (`white`, `white-blue`); a neutral grey when unknown. */
export function insulationHex(name: string): string {
  const word = name.toLowerCase().split(/[^a-z]+/)[0] ?? '';
  return INSULATION[word] ?? '#b9bcb6';
}

/** The second colour of a striped conductor (`white-blue`), or null. */
export function stripeHex(name: string): string | null {
  const word = name.toLowerCase().split(/[^a-z]+/)[1];
  return word === undefined ? null : (INSULATION[word] ?? null);
}
