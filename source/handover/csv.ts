/**
 * Rows as RFC 4180 CSV with a header. A cell that a spreadsheet would run as a formula is defused with a
 * leading apostrophe (OWASP, "CSV Injection"); plain numbers are left alone.
 *
 * @example
 * toCsv(['name'], [['=1+1']]) // => 'name\r\n\'=1+1\r\n'
 */
export function toCsv(
  header: readonly string[],
  rows: readonly (readonly (string | number | null)[])[],
): string {
  return [header, ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

function cell(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const safe = /^[=+\-@\t\r]/.test(value) && !/^[+-]?\d+(\.\d+)?$/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
