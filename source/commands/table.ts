import { COMPUTE, IDENTIFY } from './calculations.ts';
import type { Command, Option } from './command.ts';

const JSON_OUT: Option = { flags: '--json', says: 'nothing but JSON on standard output' };
const JOBS: Option = {
  flags: '--jobs <dir>',
  says: 'the jobs folder (else LOOPWARD_HOME, else the settings)',
};
const BOARD: Option = {
  flags: '--board <file>',
  says: 'a board file, or the id of one that ships',
  many: true,
};
const PLAIN: Option = { flags: '--plain', says: 'question and answer, line by line, instead of screens' };
const JOB = { flags: '<job>', says: 'a job folder, or the id of a job' };
const SURVEY = { flags: '<survey>', says: 'a survey file (YAML or JSON)' };

/** `loopward` by itself: opens the screens. */
export const BARE: Omit<Command, 'name' | 'summary' | 'example'> = {
  arguments: [{ flags: '[command]', says: 'one of these; without one the screens open' }],
  options: [JOBS, PLAIN, JSON_OUT],
  load: () => import('./bare.ts'),
};

/** Every command, in the order of the work. */
export const COMMANDS: readonly Command[] = [
  {
    name: 'demo',
    summary: 'the bundled job: a sailing club on its harbour',
    arguments: [],
    options: [JOBS, PLAIN, JSON_OUT],
    example: 'loopward demo',
    load: () => import('./demo.ts'),
  },
  {
    name: 'survey',
    summary: 'put a survey together, or change one',
    arguments: [{ flags: '[survey]', says: 'a survey file (YAML or JSON) to change' }],
    options: [JOBS],
    example: 'loopward survey survey.yaml',
    load: () => import('./survey.ts'),
  },
  {
    name: 'plan',
    summary: 'the plan of a survey and its boards, with findings',
    arguments: [SURVEY],
    options: [
      BOARD,
      { flags: '--compare', says: 'each board by itself, side by side' },
      { flags: '--change <file>', says: 'what a part of a survey would change' },
      { flags: '--explain <code>', says: 'the reasoning behind a finding, or behind the grouping' },
      JSON_OUT,
    ],
    example: 'loopward plan survey.yaml --board six-paired --explain grouping',
    load: () => import('./plan.ts'),
  },
  {
    name: 'start',
    summary: 'open a job from a survey',
    arguments: [SURVEY],
    options: [BOARD, { flags: '--job <dir>', says: 'the folder to make for it' }, JOBS, JSON_OUT],
    example: 'loopward start survey.yaml --board six-paired --job ./club',
    load: () => import('./start.ts'),
  },
  {
    name: 'next',
    summary: 'where the job stands: what is open, locked, and why',
    arguments: [JOB],
    options: [JOBS, JSON_OUT],
    example: 'loopward next ./club --json',
    load: () => import('./next.ts'),
  },
  {
    name: 'act',
    summary: 'one action, exactly what the screens do',
    arguments: [JOB, { flags: '<action>', says: 'JSON, or - for one action a line on standard input' }],
    options: [JOBS, JSON_OUT],
    example: `loopward act ./club '{"do":"note","text":"Rain since ten"}'`,
    load: () => import('./act.ts'),
  },
  {
    name: 'resume',
    summary: 'open the screens on a job',
    arguments: [JOB],
    options: [JOBS, PLAIN],
    example: 'loopward resume ./club',
    load: () => import('./resume.ts'),
  },
  {
    name: 'carry-on',
    summary: 'go on in another folder, after NOT SAVED or damage',
    arguments: [JOB],
    options: [{ flags: '--job <dir>', says: 'the folder to go on in, best on another disk' }, JOBS, JSON_OUT],
    example: 'loopward carry-on ./club --job /media/stick/club',
    load: () => import('./carry-on.ts'),
  },
  {
    name: 'history',
    summary: 'the record, filtered',
    arguments: [
      { flags: '[job]', says: 'a job folder, the id of a job, or a journal.jsonl; a folder with --all' },
    ],
    options: [
      { flags: '--question [name]', says: 'answers what is asked later, each with its records' },
      { flags: '--all', says: 'every job of the jobs folder; with --json a record a line' },
      { flags: '--step <id>', says: 'records of one step' },
      { flags: '--zone <id>', says: 'records about one zone' },
      { flags: '--person <who>', says: 'records of one person: p1 or a name' },
      { flags: '--kind <kind>', says: 'records of one kind' },
      { flags: '--find <text>', says: 'records in which this text stands' },
      { flags: '--since <time>', says: 'from this time on: 2026-05-04, 2026-05-04T10:00Z' },
      { flags: '--until <time>', says: 'up to this time' },
      { flags: '--redact', says: 'without names and free words, for passing on' },
      JOBS,
      JSON_OUT,
    ],
    example: 'loopward history ./club --zone z3',
    load: () => import('./history.ts'),
  },
  {
    name: 'verify',
    summary: 'is the record whole and unaltered',
    arguments: [{ flags: '<job>', says: 'a job folder, the id of a job, or a journal.jsonl' }],
    options: [
      { flags: '--head <head>', says: '[COUNT:]DIGEST as printed on the handover, spaces allowed' },
      JOBS,
      JSON_OUT,
    ],
    example: 'loopward verify ./club --head 240:7f3a...',
    load: () => import('./verify.ts'),
  },
  {
    name: 'handover',
    summary: 'the documents: record, drawings, zone card, labels',
    arguments: [JOB],
    options: [
      { flags: '--out <dir>', says: 'the folder to write them into' },
      { flags: '--redact', says: 'without names, place and free words' },
      JOBS,
      JSON_OUT,
    ],
    example: 'loopward handover ./club --out ./club-papers',
    load: () => import('./handover.ts'),
  },
  {
    name: 'labels',
    summary: 'wire labels: to print, for a label printer, as text',
    arguments: [SURVEY],
    options: [
      BOARD,
      { flags: '--out <dir>', says: 'write text, CSV and a printable page into this folder' },
      {
        flags: '--sheet <name>',
        says: 'the label sheet of the page: a4-65, letter-80, or sizes in mm: "210x297 3x8 70x36"',
      },
      { flags: '--csv', says: 'CSV on standard output' },
      JSON_OUT,
    ],
    example: 'loopward labels survey.yaml --out ./labels --sheet a4-65',
    load: () => import('./labels.ts'),
  },
  {
    name: 'inputs',
    summary: 'the input sheet: what each input is set to',
    arguments: [JOB],
    options: [{ flags: '--csv', says: 'CSV on standard output' }, JOBS, JSON_OUT],
    example: 'loopward inputs ./club --csv',
    load: () => import('./inputs.ts'),
  },
  {
    name: 'listen',
    summary: 'hear the new board: what its inputs do',
    arguments: [JOB],
    options: [
      { flags: '--broker <url>', says: 'where the board is heard: mqtt://HOST:PORT, or mqtts: with TLS' },
      { flags: '--username <name>', says: 'for the broker; the password stands in LOOPWARD_MQTT_PASSWORD' },
      { flags: '--password-file <file>', says: 'the password instead, in a file that only you may read' },
      { flags: '--ca <file>', says: 'the certificate authority of the broker, PEM' },
      { flags: '--http <port>', says: 'POSTs to a port of this machine; their token in LOOPWARD_HTTP_TOKEN' },
      { flags: '--host <address>', says: 'the address of that port, if not 127.0.0.1' },
      { flags: '--token-file <file>', says: 'the token instead, in a file that only you may read' },
      { flags: '--stdin', says: 'lines on standard input, each a topic and a payload' },
      { flags: '--board <id>', says: 'which board the mapping is of, where there are several' },
      {
        flags: '--topic <pattern>',
        says: 'the mapping: its topic, with {input} where the input’s name stands',
      },
      { flags: '--state <path>', says: 'where the state stands in the payload: a name, or a JSONPath' },
      { flags: '--open <text>', says: 'what means open', many: true },
      { flags: '--closed <text>', says: 'what means closed', many: true },
      { flags: '--for <time>', says: 'ends after this time: "10 min"' },
      JOBS,
      { flags: '--json', says: 'one line of JSON an event' },
    ],
    example:
      "loopward listen ./club --broker mqtt://127.0.0.1:1883 --topic 'harbour/in-{input}' --open OPEN --closed CLOSED",
    load: () => import('./listen.ts'),
  },
  {
    name: 'rehearse',
    summary: 'a simulated changeover, with faults',
    arguments: [{ flags: '[survey]', says: 'a survey file (YAML or JSON)' }],
    options: [
      BOARD,
      { flags: '--seed <n>', says: 'which building is drawn' },
      { flags: '--fault <name>', says: 'what is wrong in it', many: true },
      { flags: '--list-faults', says: 'what can be wrong' },
      { flags: '--job <dir>', says: 'the folder to make for it' },
      JSON_OUT,
    ],
    example: 'loopward rehearse survey.yaml --seed 7 --fault resistor-at-detector',
    load: () => import('./rehearse.ts'),
  },
  IDENTIFY,
  COMPUTE,
  {
    name: 'settings',
    summary: 'preferences: all, one, or a new value for one',
    arguments: [
      { flags: '[name]', says: 'of the setting' },
      { flags: '[value]', says: 'its new value' },
    ],
    options: [{ flags: '--default', says: 'back to the default' }, JSON_OUT],
    example: 'loopward settings units imperial',
    load: () => import('./settings.ts'),
  },
  {
    name: 'completion',
    summary: 'what makes a shell complete these commands',
    arguments: [
      { flags: '<shell>', says: 'bash, zsh or fish' },
      { flags: '[typed...]', says: 'what the script asks: words, and what stands before the cursor' },
    ],
    options: [],
    example: 'source <(loopward completion bash)',
    load: () => import('./completion.ts'),
  },
  {
    name: 'manual',
    summary: 'the manual page, for man',
    arguments: [],
    options: [],
    example: 'loopward manual > loopward.1 && man ./loopward.1',
    load: () => import('./manual.ts'),
  },
];
