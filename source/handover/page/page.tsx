import { encode } from 'uqr';
import { type Block, type Cell, cellWords, type HandoverDocument, MISSING } from '../document.ts';
import { ReadingScale } from '../drawing/reading-scale.tsx';
import type { DrawnStrip } from '../drawing/strip.ts';
import { StripDrawing } from '../drawing/strip-drawing.tsx';
import { layStrip } from '../drawing/strip-layout.ts';
import { plotsOf, SupplyPlot } from '../drawing/supply-plot.tsx';
import { plain } from '../plain.ts';
import { PageShell } from './shell.tsx';
import { PAGE_STYLE } from './style.ts';

/** The handover as one self-contained page. */
export function HandoverPage({ document }: { readonly document: HandoverDocument }) {
  return (
    <PageShell title={plain(document.title)} style={PAGE_STYLE}>
      <header>
        <h1>{plain(document.title)}</h1>
        <p>{plain(document.subtitle)}</p>
        {document.banner !== null && <p className="banner">{plain(document.banner)}</p>}
        <nav aria-label="Sections">
          <ul>
            {document.sections.map((section) => (
              <li key={section.id}>
                <a href={`#${section.id}`}>{section.title}</a>
              </li>
            ))}
          </ul>
        </nav>
      </header>
      <main>
        {document.sections.map((section) => (
          <section key={section.id} id={section.id}>
            <h2>{section.title}</h2>
            {section.blocks.map((block, index) => (
              <BlockView key={index} block={block} isLog={section.id === 'log'} />
            ))}
          </section>
        ))}
      </main>
    </PageShell>
  );
}

function BlockView({ block, isLog }: { readonly block: Block; readonly isLog: boolean }) {
  switch (block.kind) {
    case 'words':
      return <p>{plain(block.text)}</p>;
    case 'facts':
      return (
        <>
          {block.caption !== undefined && <h3>{plain(block.caption)}</h3>}
          <dl>
            {block.facts.map(({ name, value }) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd className={value === null ? 'missing' : undefined}>{plain(value ?? MISSING)}</dd>
              </div>
            ))}
          </dl>
        </>
      );
    case 'table':
      return <TableView block={block} isLog={isLog} />;
    case 'strips':
      return (
        <div className="beside">
          <Strips title="As found" strips={block.found} />
          <Strips title="As left" strips={block.left} />
        </div>
      );
    case 'runs':
      return <Runs block={block} />;
    case 'code':
      return (
        <figure className="head">
          <ScanCode payload={block.payload} />
          <figcaption>
            {block.lines.map((line) => (
              <code key={line}>{line}</code>
            ))}
          </figcaption>
        </figure>
      );
  }
}

function Strips({ title, strips }: { readonly title: string; readonly strips: readonly DrawnStrip[] }) {
  return (
    <div>
      <h3>{title}</h3>
      {strips.flatMap(layStrip).map((strip, index) => (
        <figure key={index}>
          <figcaption>{plain(strip.title)}</figcaption>
          <StripDrawing strip={strip} />
        </figure>
      ))}
    </div>
  );
}

function Runs({ block }: { readonly block: Extract<Block, { kind: 'runs' }> }) {
  return (
    <>
      <h3>{`${block.board}: voltage along its supply runs`}</h3>
      <p className="key">Bar: the detector’s minimum. Dot: at the end of the battery. Square: on mains.</p>
      <div className="beside">
        {plotsOf(block.runs).map((runs, index) => (
          <figure key={index}>
            <SupplyPlot runs={runs} />
          </figure>
        ))}
      </div>
    </>
  );
}

function TableView({
  block,
  isLog,
}: {
  readonly block: Extract<Block, { kind: 'table' }>;
  readonly isLog: boolean;
}) {
  return (
    <table>
      <caption>{plain(block.caption)}</caption>
      <colgroup>
        {block.widths.map((width, place) => (
          <col key={place} style={{ width: `${width}%` }} />
        ))}
      </colgroup>
      <thead>
        <tr>
          {block.columns.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {block.rows.map((row, index) => (
          <tr key={index} id={isLog ? rowId(row) : undefined}>
            {row.map((cell, place) => (
              <td key={place} data-label={block.columns[place]} className={classOf(cell)}>
                <CellView cell={cell} isLog={isLog} />
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** What is missing, or not there at all, must not look like a figure. */
function classOf(cell: Cell): string | undefined {
  if (cell === MISSING) return 'missing';
  return cellWords(cell) === '' ? 'none' : undefined;
}

function rowId(row: readonly Cell[]): string | undefined {
  const [first] = row;
  return typeof first === 'object' && 'records' in first ? `record-${first.records[0]}` : undefined;
}

function CellView({ cell, isLog }: { readonly cell: Cell; readonly isLog: boolean }) {
  if (typeof cell === 'string') return <Words text={plain(cell)} />;
  if ('records' in cell)
    return (
      <span className="numbers">
        {cell.records.map((n) =>
          isLog ? (
            <span key={n}>#{n}</span>
          ) : (
            <a key={n} href={`#record-${n}`}>
              #{n}
            </a>
          ),
        )}
      </span>
    );
  if (cell.says === '') return null;
  return (
    <span className="reading">
      <span>{plain(cell.says)}</span>{' '}
      <ReadingScale value={cell.reading} says={plain(`${cell.found}; expected ${cell.says}`)} />
    </span>
  );
}

/** Text in which no date is broken at its hyphens. */
function Words({ text }: { readonly text: string }) {
  const parts = text.split(/(\d{4}-\d\d-\d\d)/);
  if (parts.length === 1) return text;
  return (
    <span>
      {parts.map((part, place) =>
        place % 2 === 0 ? (
          part
        ) : (
          <span key={place} className="date">
            {part}
          </span>
        ),
      )}
    </span>
  );
}

/** The head as a code to scan, one path, dark on light with its quiet zone. */
function ScanCode({ payload }: { readonly payload: string }) {
  const { size, data } = encode(payload, { border: 4, ecc: 'M' });
  const dark = data.flatMap((row, y) => row.flatMap((on, x) => (on ? [`M${x} ${y}h1v1h-1z`] : [])));
  return (
    <svg
      className="scan"
      viewBox={`0 0 ${size} ${size}`}
      role="img"
      aria-label="The record’s head as a code to scan"
    >
      <title>The record’s head as a code to scan</title>
      <rect width={size} height={size} fill="#fff" />
      <path d={dark.join('')} fill="#000" shapeRendering="crispEdges" />
    </svg>
  );
}
