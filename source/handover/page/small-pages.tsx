import type { ReactNode } from 'react';
import { LabelSheetPages } from '../label-sheet.tsx';
import type { LabelSheet } from '../label-sheets.ts';
import type { WireLabel } from '../labels.ts';
import { PageShell } from './shell.tsx';
import { PAGE_STYLE } from './style.ts';

/** A small page of one thing: the zone card. */
export function SheetPage({
  title,
  style = PAGE_STYLE,
  children,
}: {
  readonly title: string;
  readonly style?: string;
  readonly children?: ReactNode;
}) {
  return (
    <PageShell title={title} style={style}>
      <main>{children}</main>
    </PageShell>
  );
}

/** The label sheets at their true size: print without scaling. */
export function LabelPage({
  labels,
  sheet,
}: {
  readonly labels: readonly WireLabel[];
  readonly sheet: LabelSheet;
}) {
  const { width, height } = sheet.page;
  const style = `
@page { size: ${width}mm ${height}mm; margin: 0; }
body { margin: 0; background: #fff; color: #111; }
.label-page { position: relative; width: ${width}mm; height: ${height}mm; break-after: page; overflow: hidden; }
.label { position: absolute; display: flex; flex-direction: column; justify-content: space-between; overflow: hidden; padding: .6mm 1mm; box-sizing: border-box; font: 2.4mm/1.15 system-ui, sans-serif; }
.label b { font-family: ui-monospace, monospace; font-weight: 700; white-space: nowrap; }
.label span { white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); margin: 0; }
@media screen { .label-page { margin: 1rem auto; outline: 1px solid #999; } .label { outline: 1px dotted #bbb; } }
`;
  return (
    <SheetPage title={`Wire labels, ${sheet.name}`} style={style}>
      <h1 className="unseen">{`Wire labels, ${sheet.name}`}</h1>
      <LabelSheetPages labels={labels} sheet={sheet} />
    </SheetPage>
  );
}
