import { readFileSync } from 'node:fs';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';

/** One way to start the program, and what it must answer. */
export type Way = {
  readonly argv: readonly string[];
  /** What is handed to standard input. */
  readonly input?: string;
  /** What somebody at a terminal sees and then types, turn by turn. */
  readonly terminal?: readonly (readonly [sees: string, types: string])[];
  readonly code: number;
  readonly out?: RegExp;
  readonly err?: RegExp;
};

const SHIFT = '{"do":"start-shift","name":"Ada Lovett","instrument":"meter 3"}';
const NOTE = '{"do":"note","text":"rain from ten"}';
const JSON_OF = (format: string) => new RegExp(`"format":"loopward/${format}@1"`);

const DIVIDER = [
  ...['--resistance', '2k2', '--pull-up', '10k', '--reference', '3.3 V'],
  ...['--closed-below', '0.8 V', '--open-above', '2 V'],
];
const BATTERY = [
  ...['--standby', '0.42 A', '--hold-up', '24 h', '--alarm', '3.8 A', '--alarm-time', '5 min'],
  ...['--margin', '20 %', '--temperature', '10 °C', '--explain', '--json'],
];

/**
 * Every command in every mode, as somebody would try them one after the other in an empty folder that holds only
 * `survey.yaml`; a later one may use what an earlier one made.
 */
export const WAYS: readonly Way[] = [
  { argv: [], code: 2, err: /need a terminal/ },
  { argv: ['--version'], code: 0, out: /^\d+\.\d+\.\d+\n$/ },
  { argv: ['help'], code: 0, out: /leads the changeover/ },
  { argv: ['help', 'plan'], code: 0, out: /Usage: loopward plan/ },
  { argv: ['--help'], code: 0, out: /leads the changeover/ },

  { argv: ['demo'], code: 0, out: /A rehearsed changeover/ },
  { argv: ['demo', '--json'], code: 0, out: JSON_OF('plan') },
  { argv: ['demo', '--jobs', 'jobs'], terminal: [['where the job stands', 'q']], code: 0, out: /Go on with/ },
  {
    argv: ['demo', '--plain', '--jobs', 'jobs'],
    terminal: [['Type /help', '/quit\r']],
    code: 0,
    out: /Supply:/,
  },
  { argv: ['--jobs', 'jobs'], terminal: [['A new job', 'q']], code: 0 },
  { argv: ['--plain'], terminal: [['--plain works on one job', '']], code: 2 },

  { argv: ['survey'], code: 2, err: /need a terminal/ },
  {
    argv: ['survey', '--jobs', 'jobs'],
    terminal: [
      ['What is it called', '\x1b'],
      ['A new job', 'q'],
    ],
    code: 0,
  },
  {
    argv: ['survey', 'survey.yaml'],
    terminal: [
      ['survey.yaml', '\x1b'],
      ['A new job', 'q'],
    ],
    code: 0,
  },

  { argv: ['plan', 'survey.yaml'], code: 0, out: /Harbour sailing club/ },
  {
    argv: ['plan', '-'],
    input: readFileSync(bundledFile(DEMO_SURVEY), 'utf8'),
    code: 0,
    out: /Harbour sailing club/,
  },
  { argv: ['plan', 'nowhere.yaml', '--json'], code: 2, err: /^\{"format":"loopward\/error@1"/ },
  { argv: ['plan', 'survey.yaml', '--board', 'six-paired', '--json'], code: 0, out: JSON_OF('plan') },
  {
    argv: ['plan', 'survey.yaml', '--compare', '--board', 'six-paired', '--board', 'eight-paired'],
    code: 0,
    out: /Eight inputs/,
  },
  { argv: ['plan', 'survey.yaml', '--explain', 'grouping'], code: 0, out: /grouping/i },
  { argv: ['plan', 'survey.yaml', '--change', 'change.yaml'], code: 0, out: /./ },

  { argv: ['start', 'survey.yaml', '--board', 'six-paired', '--job', 'club'], code: 0, out: /Go on with/ },
  { argv: ['start', 'survey.yaml', '--jobs', 'jobs', '--json'], code: 0, out: JSON_OF('started') },
  { argv: ['next', 'club'], code: 0, out: /Supply:/ },
  { argv: ['next', 'demo', '--jobs', 'jobs', '--json'], code: 0, out: JSON_OF('next') },
  { argv: ['act', 'club', SHIFT], code: 0, out: /recorded/ },
  { argv: ['act', 'demo', NOTE, '--jobs', 'jobs', '--json'], code: 0, out: JSON_OF('acted') },
  {
    argv: ['act', 'club', '-'],
    input: `${NOTE}\n\n${NOTE}\n`,
    code: 0,
    out: /^(.*"acted@1?.*\n|.*acted.*\n){2}$/,
  },
  { argv: ['inputs', 'club'], code: 0, out: /I1/ },
  { argv: ['inputs', 'demo', '--jobs', 'jobs', '--csv'], code: 0, out: /,/ },
  { argv: ['inputs', 'demo', '--jobs', 'jobs', '--json'], code: 0, out: JSON_OF('inputs') },
  {
    argv: [
      ...['listen', 'club', '--stdin', '--topic', 'board/{input}', '--state', 's', '--open', 'on'],
      ...['--closed', 'off', '--board', 'b1', '--for', '1 min', '--json'],
    ],
    input: 'board/1 {"s":"on"}\nboard/1 {"s":"off"}\n',
    code: 0,
    out: /"state":"open".*"state":"closed"/s,
    err: /^Listening/,
  },
  {
    argv: [
      'listen',
      'demo',
      '--jobs',
      'jobs',
      '--http',
      '18099',
      '--host',
      '127.0.0.1',
      '--token-file',
      'nowhere',
    ],
    code: 2,
    err: /nowhere/,
  },
  {
    argv: [
      ...['listen', 'club', '--broker', 'mqtt://127.0.0.1:1', '--username', 'x'],
      ...['--password-file', 'nowhere', '--ca', 'nowhere'],
    ],
    code: 2,
    err: /nowhere/,
  },
  { argv: ['resume', 'club'], code: 2, err: /need a terminal/ },
  { argv: ['resume', 'club'], terminal: [['where the job stands', 'q']], code: 0, out: /Go on with/ },
  {
    argv: ['resume', 'demo', '--jobs', 'jobs', '--plain'],
    terminal: [
      ['Your name', 'Ada Lovett\r'],
      ['My own meter', '1\r'],
      ['? ', '0.3\r'],
      ['Recorded (start-shift)', '/note\r'],
      ['? ', 'typed line by line\r'],
      ['Recorded (note)', '/quit\r'],
    ],
    code: 0,
  },

  { argv: ['rehearse', '--list-faults'], code: 0, out: /resistor-at-detector/ },
  {
    argv: [
      ...['rehearse', 'survey.yaml', '--board', 'six-paired', '--seed', '3'],
      ...['--fault', 'resistor-at-detector', '--job', 'done', '--json'],
    ],
    code: 0,
    out: JSON_OF('rehearsal'),
  },
  {
    argv: ['history', 'done', '--zone', 'z1', '--since', '2000-01-01', '--until', '2999-01-01'],
    code: 0,
    out: /./,
  },
  { argv: ['history', 'done', '--step', 'plan.accept', '--person', 'p1', '--kind', 'act'], code: 0 },
  { argv: ['history', 'done', '--find', 'resistor', '--redact', '--json'], code: 0, out: JSON_OF('history') },
  { argv: ['history', 'done', '--question'], code: 0, out: /\(.+\)/ },
  { argv: ['history', '--all', '--jobs', 'jobs'], code: 0, out: /demo/ },
  { argv: ['history', '--all', '--question', '--jobs', 'jobs'], code: 0, out: /demo/ },
  { argv: ['verify', 'done'], code: 0, out: /^SELF-CONSISTENT/ },
  { argv: ['verify', 'demo', '--jobs', 'jobs', '--json'], code: 0, out: JSON_OF('verify') },
  { argv: ['verify', 'done', '--head', 'f'.repeat(64)], code: 4, out: /^REPLACED/ },
  { argv: ['handover', 'done', '--out', 'papers'], code: 0, out: /papers/ },
  {
    argv: ['handover', 'demo', '--jobs', 'jobs', '--redact', '--out', 'redacted', '--json'],
    code: 0,
    out: /./,
  },
  { argv: ['carry-on', 'club', '--job', 'club-2'], code: 0, out: /club-2/ },
  { argv: ['carry-on', 'demo', '--jobs', 'jobs', '--job', 'demo-2', '--json'], code: 0, out: /demo-2/ },

  { argv: ['labels', 'survey.yaml', '--csv'], code: 0, out: /,/ },
  { argv: ['labels', 'survey.yaml', '--board', 'six-paired', '--json'], code: 0, out: JSON_OF('labels') },
  { argv: ['labels', 'survey.yaml', '--out', 'labels', '--sheet', 'letter-80'], code: 0, out: /labels/ },

  {
    argv: [
      ...['identify', '--rest', '2.23k', '--active', 'OL', '--tamper', 'OL', '--field', '30'],
      ...[
        '--cable',
        '18 m 22 AWG',
        '--contacts',
        '1',
        '--colours',
        'red red red gold',
        '--explain',
        '--json',
      ],
    ],
    code: 0,
    out: JSON_OF('identify'),
  },
  {
    argv: ['compute', 'wire', '--conductor', '22 AWG', '--length', '100 ft', '--explain'],
    code: 0,
    out: /Ω/,
  },
  {
    argv: [
      ...['compute', 'drop', '--conductor', '16 AWG', '--length', '100 ft', '--current', '4 A'],
      ...['--source', '24 V', '--json'],
    ],
    code: 0,
    out: /"endVolts"/,
  },
  { argv: ['compute', 'battery', ...BATTERY], code: 0, out: /"requiredAmpHours"/ },
  {
    argv: ['compute', 'battery', '--standby', '0.42 A', '--alarm', '1 A', '--preset', 'grade-2'],
    code: 0,
    out: /Ah/,
  },
  { argv: ['compute', 'hold-up', '--capacity', '7 Ah', '--current', '1 A'], code: 0, out: /h/ },
  { argv: ['compute', 'resistor', '--colours', 'yellow violet red gold'], code: 0, out: /4\.?k?7/ },
  { argv: ['compute', 'resistor', '--code', '4K7'], code: 0, out: /4\.?k?7/ },
  { argv: ['compute', 'divider', ...DIVIDER], code: 0, out: /closed/ },

  { argv: ['settings', 'units', 'imperial'], code: 0, out: /imperial/ },
  { argv: ['settings', 'units', '--default', '--json'], code: 0, out: JSON_OF('settings') },
  { argv: ['completion', 'bash'], code: 0, out: /complete -/ },
  { argv: ['completion', 'words', '--', 'settings', 'units'], code: 0, out: /metric\nimperial/ },
  { argv: ['completion', 'zsh'], code: 0, out: /#compdef/ },
  { argv: ['completion', 'fish'], code: 0, out: /complete -c/ },
  { argv: ['manual'], code: 0, out: /^\.TH LOOPWARD/ },
];

/** A correction for `plan --change`. */
export const CHANGE = 'cables:\n  - {id: c1, length: 40 m}\n';
