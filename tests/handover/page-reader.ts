/** A table of a page as a reader sees it: the text of each cell, and what is drawn in it. */
export type ReadTable = {
  readonly caption: string;
  readonly columns: readonly string[];
  readonly rows: readonly ReadRow[];
};
export type ReadRow = {
  readonly cells: Readonly<Record<string, string>>;
  readonly drawings: Readonly<Record<string, string>>;
  /** Numbers of the records behind it. */
  readonly records: readonly number[];
};

/** Every table of a page written by `react-dom/server`, whose markup is regular. */
export function readTables(html: string): ReadTable[] {
  return [...html.matchAll(/<table.*?<\/table>/gs)].map(([table]) => {
    const columns = [...table.matchAll(/<th [^>]*>(.*?)<\/th>/gs)].map(([, name]) => seenText(name!));
    const body = table.slice(table.indexOf('<tbody>'));
    const rows = [...body.matchAll(/<tr[^>]*>(.*?)<\/tr>/gs)].map(([, row]): ReadRow => {
      const cells = [...row!.matchAll(/<td[^>]*?(?:\/>|>(.*?)<\/td>)/gs)].map(([, cell]) => cell ?? '');
      const under = (of: (cell: string) => string) =>
        Object.fromEntries(columns.map((name, place) => [name, of(cells[place] ?? '')]));
      return {
        cells: under(seenText),
        drawings: under((cell) => cell.match(/<svg.*?<\/svg>/s)?.[0] ?? ''),
        records: [...row!.matchAll(/>#(?:<!-- -->)?(\d+)</g)].map(([, n]) => Number(n)),
      };
    });
    return { caption: seenText(table.match(/<caption>(.*?)<\/caption>/s)?.[1] ?? ''), columns, rows };
  });
}

/** Text between tags, entities undone, drawings and style left out: what a reader of the page sees. */
export function seenText(html: string): string {
  return html
    .replace(/<style>.*?<\/style>/gs, ' ')
    .replace(/<svg.*?<\/svg>/gs, ' ')
    .replace(/<!-- -->/g, '')
    .replace(/<\/?(?:b|i|code|span class="date")>|<span class="date">/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&#x27;', "'")
    .replaceAll('&quot;', '"')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&')
    .replace(/\s+/g, ' ')
    .trim();
}

/** Every figure in a text, as it stands there. */
export function figuresIn(text: string): string[] {
  return text.match(/\d+(?:\.\d+)?/g) ?? [];
}
