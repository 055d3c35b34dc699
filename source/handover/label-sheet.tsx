import type { LabelSheet, WireLabel } from './labels.ts';

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

/** The largest type, up to 4 mm, in which an identifier stands on one line of its label. */
function identifierSize(sheet: LabelSheet, identifier: string): string {
  const widthOfCharacter = 0.62; // of the type size, monospaced
  return `${round(Math.min(4, (sheet.label.width - 2) / (identifier.length * widthOfCharacter)))}mm`;
}

function round(millimetres: number): number {
  return Math.round(millimetres * 100) / 100;
}
