/** The page's only style: plain, legible in black and white, one column on a phone, A4 in print. */
export const PAGE_STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.2rem; max-width: 60rem; font: 16px/1.45 system-ui, sans-serif; color: #111; background: #fff; overflow-wrap: anywhere; }
h1 { font-size: 1.7rem; margin: 0 0 .2rem; }
h2 { font-size: 1.25rem; margin: 2rem 0 .6rem; border-bottom: 2px solid #111; padding-bottom: .2rem; }
.banner { border: 3px solid #111; padding: .5rem .8rem; font-weight: 700; }
nav ul { display: flex; flex-wrap: wrap; gap: .3rem 1rem; padding: 0; margin: .8rem 0 0; list-style: none; }
a { color: #0b3d91; }
h3 { font-size: 1rem; margin: 1rem 0 .2rem; }
dl { margin: 0 0 1rem; }
dl > div { display: grid; grid-template-columns: minmax(9rem, 16rem) minmax(0, 1fr); gap: .2rem 1rem; padding: .15rem 0; border-bottom: 1px solid #ddd; }
dt { color: #333; }
dd { margin: 0; font-weight: 600; }
.missing { font-weight: 400; font-style: italic; color: #555; }
table { width: 100%; table-layout: fixed; border-collapse: collapse; margin: 0 0 1.2rem; font-size: .88rem; overflow-wrap: break-word; }
caption { text-align: left; font-weight: 600; padding: .3rem 0; font-size: .95rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem .3rem 0; border-bottom: 1px solid #ccc; }
th { border-bottom: 2px solid #111; overflow-wrap: normal; }
figure { margin: 0 0 1.2rem; }
figcaption { font-weight: 600; margin-bottom: .3rem; font-size: .9rem; }
svg { display: block; max-width: 100%; height: auto; }
svg.strip, svg.plot { width: 100%; }
svg text { font: 11px "DejaVu Sans Mono", "Liberation Mono", Menlo, Consolas, monospace; fill: #111; }
svg text.screw { font-weight: 700; font-size: 12px; }
svg text.role { font-style: italic; }
svg text.strong { font-weight: 700; }
svg text.below { font-size: 9.5px; }
svg.scale { width: 9rem; margin-top: .1rem; }
.beside { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); gap: 0 2rem; }
.key { margin: 0 0 .4rem; }
.date { white-space: nowrap; }
.numbers { display: inline-flex; flex-wrap: wrap; gap: 0 .4rem; }
.numbers > * { white-space: nowrap; }
.head { display: flex; flex-wrap: wrap; gap: 1rem; align-items: center; }
.head code { display: block; font-size: .95rem; overflow-wrap: anywhere; }
svg.scan { width: 11rem; }
@media screen and (max-width: 40rem) {
  body { padding: .8rem; }
  dl > div { grid-template-columns: 1fr; gap: 0; }
  .beside { grid-template-columns: minmax(0, 1fr); }
  colgroup { display: none; }
  table, tbody, caption { display: block; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tr { display: block; border-bottom: 2px solid #999; padding: .4rem 0; }
  td { display: grid; grid-template-columns: 7rem minmax(0, 1fr); gap: .6rem; border: 0; padding: .1rem 0; }
  td.none { display: none; }
  td::before { content: attr(data-label); color: #444; font-style: normal; }
}
@media print {
  html { font-size: 12px; }
  @page { size: A4; margin: 14mm; }
  body { padding: 0; max-width: none; font-size: 1rem; }
  nav { display: none; }
  #wiring { break-before: page; }
  h2, h3, caption, figcaption, thead { break-after: avoid; break-inside: avoid; }
  tr, figure, p, dl > div { break-inside: avoid; }
  .key { break-after: avoid; }
  thead { display: table-header-group; }
  a { color: inherit; text-decoration: none; }
}
`;
