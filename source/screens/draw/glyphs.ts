/** Every drawn sign, with an ASCII stand-in. All of them take one column. */
export type Glyphs = {
  readonly name: 'unicode' | 'ascii';
  readonly cut: string;
  readonly rule: string;
  readonly ruleDone: string;
  readonly pointer: string;
  readonly caution: string;
  readonly done: string;
  readonly failed: string;
  readonly open: string;
  readonly locked: string;
  readonly doubt: string;
  readonly other: string;
  readonly axis: string;
  readonly window: string;
  readonly usable: string;
  readonly left: string;
  readonly right: string;
  readonly mark: string;
  readonly block: string;
  readonly wire: string;
  readonly drop: string;
  readonly screw: string;
  readonly corner: string;
  readonly dot: string;
  readonly more: string;
  readonly up: string;
  readonly down: string;
  readonly back: string;
  readonly forth: string;
  readonly bar: string;
  readonly barEmpty: string;
  readonly swatch: string;
};

export const GLYPHS: Readonly<Record<Glyphs['name'], Glyphs>> = {
  unicode: {
    name: 'unicode',
    cut: '…',
    rule: '─',
    ruleDone: '━',
    pointer: '›',
    caution: '▲',
    done: '✓',
    failed: '✗',
    open: '○',
    locked: '·',
    doubt: '?',
    other: '~',
    axis: '─',
    window: '█',
    usable: '▒',
    left: '├',
    right: '┤',
    mark: '▼',
    block: '█',
    wire: '─',
    drop: '│',
    screw: '◉',
    corner: '└',
    dot: '·',
    more: '⋯',
    up: '↑',
    down: '↓',
    back: '←',
    forth: '→',
    bar: '█',
    barEmpty: '░',
    swatch: '■',
  },
  ascii: {
    name: 'ascii',
    cut: '~',
    rule: '-',
    ruleDone: '=',
    pointer: '>',
    caution: '!',
    done: 'V',
    failed: 'X',
    open: 'o',
    locked: '.',
    doubt: '?',
    other: '~',
    axis: '-',
    window: '#',
    usable: ':',
    left: '|',
    right: '|',
    mark: 'v',
    block: '#',
    wire: '-',
    drop: '|',
    screw: 'O',
    corner: '`',
    dot: '-',
    more: '+',
    up: '^',
    down: 'v',
    back: '<',
    forth: '>',
    bar: '#',
    barEmpty: '.',
    swatch: '*',
  },
};

const SPELLED: Readonly<Record<string, string>> = {
  Ω: 'ohm',
  '²': '2',
  '°': 'deg ',
  '±': '+/-',
  '×': 'x',
  '–': '-',
  '—': '-',
  '−': '-',
  '≤': '<=',
  '≥': '>=',
  '→': '->',
  '←': '<-',
  '↑': 'up',
  '↓': 'down',
  '∞': 'open',
  '…': '...',
  '’': "'",
  '“': '"',
  '”': '"',
  '·': '-',
  '─': '-',
  '│': '|',
  ...Object.fromEntries([...'╭╮╰╯┌┐└┘├┤┬┴┼'].map((corner) => [corner, '+'])),
};

/** Text for a terminal that only has ASCII: signs are spelled, letters lose their accents. */
export function asciiText(text: string): string {
  if (/^[\x20-\x7e]*$/.test(text)) return text;
  return [...text.normalize('NFKD').replaceAll(/\p{M}/gu, '')]
    .map((sign) => (sign <= '~' ? sign : (SPELLED[sign] ?? '?')))
    .join('');
}
