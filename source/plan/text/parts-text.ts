import type { Plan } from '../plan.ts';
import { heading, paragraph } from './layout.ts';

/** More places than this are not told one by one. */
const MOST_TOLD = 24;

/** What to bring, and what each is for: every count can be found again in the tables above. */
export function partsText({ parts }: Plan, columns: number): string[] {
  if (parts.length === 0) return [];
  const width = Math.max(...parts.map(({ count }) => String(count).length));
  return [
    ...heading('Parts to bring', columns),
    ...parts.flatMap(({ item, count, for: places }) =>
      paragraph(
        `${item}: ${places.length > MOST_TOLD ? 'one for each conductor that leaves its place' : told(places).join(', ')}`,
        columns,
        `${String(count).padStart(width)} x `,
        ' '.repeat(width + 4),
      ),
    ),
  ];
}

/** The same place twice is told once, with how often. */
function told(places: readonly string[]): string[] {
  return [...new Set(places)].map((place) => {
    const times = places.filter((one) => one === place).length;
    return times > 1 ? `${place} (${times})` : place;
  });
}
