import type { LabelSheet } from './label-sheets.ts';
import type { WireLabel } from './labels.ts';

/**
 * Labels laid on sheets of a given size, each wrapping round its conductor: the identifier stands twice, so
 * that it can be read from either side, and is never broken.
 */
export function LabelSheetPages({
  labels,
  sheet,
}: {
  readonly labels: readonly WireLabel[];
  readonly sheet: LabelSheet;
}) {
  const perPage = sheet.columns * sheet.rows;
  const pages = Array.from({ length: Math.ceil(labels.length / perPage) }, (_, page) =>
    labels.slice(page * perPage, (page + 1) * perPage),
  );
  return pages.map((page, index) => (
    <section key={index} className="label-page" aria-label={`Label sheet ${index + 1} of ${pages.length}`}>
      {page.map((label, place) => (
        <div key={label.conductor} className="label" style={labelPlace(sheet, place)}>
          <b style={{ fontSize: identifierSize(sheet, label.conductor) }}>{label.conductor}</b>
          <span>
            {label.colour} · {label.to}
          </span>
          <b style={{ fontSize: identifierSize(sheet, label.conductor) }}>{label.conductor}</b>
        </div>
      ))}
    </section>
  ));
}

function labelPlace(sheet: LabelSheet, place: number) {
  const column = place % sheet.columns;
  const row = Math.floor(place / sheet.columns);
  return {
    left: `${round(sheet.margin.left + column * (sheet.label.width + sheet.gap.across))}mm`,
    top: `${round(sheet.margin.top + row * (sheet.label.height + sheet.gap.down))}mm`,
    width: `${sheet.label.width}mm`,
    height: `${sheet.label.height}mm`,
  };
}

/** Height of the line between the two identifiers, and of the space above and below, in millimetres. */
const BETWEEN = 4.2;

/** The largest type, up to 4 mm, in which an identifier stands twice on its label, each on one line. */
function identifierSize({ label }: LabelSheet, identifier: string): string {
  const widthOfCharacter = 0.62; // of the type size, monospaced
  const across = (label.width - 2) / (identifier.length * widthOfCharacter);
  const down = (label.height - BETWEEN) / 2 / 1.2;
  return `${round(Math.min(4, across, down))}mm`;
}

function round(millimetres: number): number {
  return Math.round(millimetres * 100) / 100;
}
