import type { Page } from 'playwright-core';

/** Where things stand in a page's PDF: a mark's page and height on it, and how many pages there are. */
export type Printed = {
  readonly pages: number;
  /** Headings that stand at the foot of a page without what they head, rows and drawings that are cut. */
  readonly broken: readonly string[];
  /** How many headings, and how many rows and drawings, were looked at. */
  readonly looked: { readonly headings: number; readonly whole: number };
};

/**
 * Prints a page to PDF and finds, from named destinations put beside each thing, what a page break parts. Chromium
 * writes destinations as plain text, so no reader of PDF is needed.
 */
export async function printedPage(page: Page): Promise<Printed> {
  const marked = (await page.evaluate(MARK)) as Marked;
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  const pageOf = new Map(
    [...pdf.matchAll(/\/(mark\d+) \[(\d+) 0 R \/XYZ/g)].map(([, mark, place]) => [mark!, place!]),
  );
  const apart = (marks: readonly string[]) => {
    const places = marks.map((mark) => pageOf.get(mark));
    if (places.includes(undefined)) throw new Error(`A mark of ${marks.join(' ')} is not in the PDF.`);
    return new Set(places).size > 1;
  };
  const broken = [
    ...marked.headings.filter(({ marks }) => apart(marks)).map(({ says }) => `heading alone: ${says}`),
    ...marked.whole.filter(({ marks }) => apart(marks)).map(({ says }) => `cut: ${says}`),
  ];
  return {
    pages: pdf.match(/\/Type \/Page\b(?!s)/g)?.length ?? 0,
    broken,
    looked: { headings: marked.headings.length, whole: marked.whole.length },
  };
}

type Thing = { readonly says: string; readonly marks: readonly string[] };
type Marked = { readonly headings: readonly Thing[]; readonly whole: readonly Thing[] };

const MARK = `(() => {
  let count = 0;
  // A destination is only written for what a link leads to.
  const mark = (element, where, block) => {
    const name = 'mark' + count++;
    element.insertAdjacentHTML(where, '<a id="' + name + '" href="#' + name + '"' + (block ? ' style="display:block;height:0"' : '') + '></a>');
    return name;
  };
  const says = (element) => element.textContent.trim().replace(/\\s+/g, ' ').slice(0, 60);
  const first = new Map();
  const whole = [];
  for (const row of document.querySelectorAll('tr, dl > div')) {
    const marks = [...row.children].flatMap((cell) => [mark(cell, 'afterbegin'), mark(cell, 'beforeend')]);
    first.set(row, marks[0]);
    whole.push({ says: says(row), marks });
  }
  for (const figure of document.querySelectorAll('figure')) {
    const marks = [mark(figure, 'afterbegin', true), mark(figure, 'beforeend', true)];
    first.set(figure, marks[0]);
    whole.push({ says: 'drawing ' + (figure.querySelector('title')?.textContent ?? ''), marks });
  }
  for (const words of document.querySelectorAll('main p')) first.set(words, mark(words, 'afterbegin'));
  const starts = [...first.keys()].sort((a, b) => (a.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1));
  const headings = [...document.querySelectorAll('h2, h3, caption, thead tr')].map((heading) => {
    const next = starts.find((one) => one !== heading && one.closest('thead') === null && heading.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING);
    return { says: says(heading), marks: [mark(heading.cells?.[0] ?? heading, 'afterbegin'), ...(next ? [first.get(next)] : [])] };
  });
  return { headings, whole };
})()`;
