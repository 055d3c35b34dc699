import type { Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { BARE, COMMANDS } from './table.ts';

const SHELLS = ['bash', 'zsh', 'fish'] as const;
type Shell = (typeof SHELLS)[number];

export const run: Run = async (given, context) => {
  if (given.arguments[0] === 'words') {
    // Whoever presses Tab gets no sentence about what is wrong.
    const { offersAfter } = await import('./offers.ts');
    for (const word of offersAfter(given.arguments.slice(1), context)) context.out(word);
    return EXIT.done;
  }
  const shell = SHELLS.find((one) => one === given.arguments[0]);
  if (!shell) throw new Ending('usage', `Completion is made for ${SHELLS.join(', ')}. Name one of them.`);
  context.out(WRITES[shell]());
  return EXIT.done;
};

type Offer = { readonly name: string; readonly summary: string; readonly options: readonly OptionOffer[] };
type OptionOffer = { readonly long: string; readonly says: string; readonly takes: string | null };

/** What may be typed, as data: the one thing the three scripts are written from. */
export function offers(): Offer[] {
  return COMMANDS.map(({ name, summary, options }) => ({ name, summary, options: options.map(optionOffer) }));
}

function optionOffer({ flags, says }: { readonly flags: string; readonly says: string }): OptionOffer {
  const [, long = '', takes = null] = /(--[\w-]+)(?:\s+[<[]([\w-]+)[>\]])?/.exec(flags) ?? [];
  return { long, says, takes };
}

const WRITES: Readonly<Record<Shell, () => string>> = { bash: forBash, zsh: forZsh, fish: forFish };

function forBash(): string {
  const cases = offers().map(
    ({ name, options }) => `    ${name}) words="${options.map((one) => one.long).join(' ')}" ;;`,
  );
  return `# loopward completion for bash: source <(loopward completion bash)
_loopward() {
  local current="\${COMP_WORDS[COMP_CWORD]}" words
  case "\${COMP_WORDS[1]}" in
${cases.join('\n')}
    *) words="" ;;
  esac
  [ "$COMP_CWORD" -eq 1 ] && words="${names()}"
  COMPREPLY=($(compgen -W "$words" -- "$current") $(compgen -f -- "$current"))
  local IFS=$'\\n' offered
  offered="$(loopward completion words -- "\${COMP_WORDS[@]:1:COMP_CWORD-1}" 2>/dev/null)"
  COMPREPLY+=($(compgen -W "$offered" -- "$current"))
}
complete -o filenames -F _loopward loopward`;
}

function forZsh(): string {
  const commands = offers().map(({ name, summary }) => `    '${quoted(`${name}:${summary}`)}'`);
  const cases = offers().map(({ name, options }) => {
    const specs = options.map(({ long, says, takes }) => {
      const value = takes === null ? '' : `:${takes}:_loopward_words`;
      return ` '${quoted(`${long}[${says.replaceAll(/[[\]]/g, '')}]${value}`)}'`;
    });
    return `      ${name}) _arguments${specs.join('')} '*:argument:_loopward_words' ;;`;
  });
  return `#compdef loopward
_loopward_words() {
  local -a offered=(\${(f)"$(loopward completion words -- \${words[2,CURRENT-1]} 2>/dev/null)"})
  compadd -a offered
  _files
}
_loopward() {
  local -a commands=(
${commands.join('\n')}
  )
  if (( CURRENT == 2 )); then
    _describe command commands
  else
    case $words[2] in
${cases.join('\n')}
    esac
  fi
}
compdef _loopward loopward`;
}

function forFish(): string {
  const first = `__fish_use_subcommand`;
  const lines = offers().flatMap(({ name, summary, options }) => [
    `complete -c loopward -n ${first} -f -a ${name} -d '${quoted(summary)}'`,
    ...options.map(({ long, says, takes }) => {
      const value = takes === null ? '' : ' -r';
      return `complete -c loopward -n '__fish_seen_subcommand_from ${name}' -l ${long.slice(2)}${value} -d '${quoted(says)}'`;
    }),
  ]);
  const words = `complete -c loopward -n 'not __fish_use_subcommand' -a '(loopward completion words -- (commandline -opc)[2..-1] 2>/dev/null)'`;
  return ['# loopward completion for fish: loopward completion fish | source', ...lines, words].join('\n');
}

function names(): string {
  const bare = BARE.options.map((option) => optionOffer(option).long);
  return [...COMMANDS.map((command) => command.name), 'help', ...bare, '--help', '--version'].join(' ');
}

function quoted(text: string): string {
  return text.replaceAll("'", "'\\''");
}
