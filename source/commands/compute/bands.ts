import type { Colour } from '../../electrical/colour-code.ts';

/** Background and ink of each band, from the 256 colours a terminal has. */
const PAINT: Record<Colour, readonly [background: number, ink: number]> = {
  pink: [218, 16],
  silver: [250, 16],
  gold: [178, 16],
  black: [16, 231],
  brown: [94, 231],
  red: [160, 231],
  orange: [208, 16],
  yellow: [226, 16],
  green: [28, 231],
  blue: [21, 231],
  violet: [91, 231],
  grey: [244, 16],
  white: [231, 16],
};

/**
 * A resistor with its bands, each with its name in it: colour alone would tell nothing in poor light.
 *
 * @returns three lines
 */
export function drawBands(bands: readonly Colour[], withColour: boolean): readonly string[] {
  const edge = (left: string, cross: string, right: string) =>
    `     ${left}──${cross}${bands.map((name) => '─'.repeat(name.length + 2)).join(cross)}${cross}──${right}`;
  const body = bands.map((name) => painted(` ${name} `, name, withColour)).join('│');
  return [edge('╭', '┬', '╮'), ` ────┤  │${body}│  ├────`, edge('╰', '┴', '╯')];
}

function painted(text: string, name: Colour, withColour: boolean): string {
  const [background, ink] = PAINT[name];
  return withColour ? `\u001b[48;5;${background};38;5;${ink}m${text}\u001b[0m` : text;
}
