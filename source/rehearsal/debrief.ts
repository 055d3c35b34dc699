import type { Rehearsal } from './rehearse.ts';

/** The summary of a rehearsal for people: what was found where, what was missed, how long it would take. */
export function debriefLines(rehearsal: Rehearsal, columns: number): string[] {
  const { worked, faults, caught, missed, noPlace, harm, seconds, seed } = rehearsal;
  const lines = [
    worked.closed ? 'The job was carried out to its end and closed.' : 'The job could not be closed.',
    ...worked.stuck.map((why) => `  ${why}`),
    `${worked.confirmations} cards confirmed, ${worked.readings} readings, about ${hours(seconds)} of work (seed ${seed}).`,
  ];
  if (faults.length === 0) lines.push('There was no fault in the building.');
  else lines.push('', ...table(rehearsal, columns));
  for (const { fault, step, stage, causes } of caught) {
    const place = causes.indexOf(fault);
    const named =
      place < 0 ? 'it was not among the causes named' : `named as cause ${place + 1} of ${causes.length}`;
    lines.push(`  ${fault}: found at ${step} (${stage}), ${named}.`);
  }
  for (const fault of missed) lines.push(`  ${fault}: not found; no reading that is asked for shows it.`);
  for (const fault of noPlace) lines.push(`  ${fault}: this site has no place for it.`);
  if (worked.deviated.length > 0) lines.push(`Deviated from: ${worked.deviated.join(', ')}.`);
  lines.push(...harm.map((says) => `HARM: ${says}.`));
  return lines;
}

function table({ faults, caught }: Rehearsal, columns: number): string[] {
  const wide = Math.max(5, ...faults.map((fault) => fault.length));
  const row = (fault: string, found: string, at: string) =>
    `  ${fault.padEnd(wide)}  ${found.padEnd(6)}  ${at}`.slice(0, columns).trimEnd();
  return [
    row('Fault', 'Found', 'At step'),
    ...faults.map((fault) => {
      const at = caught.find((one) => one.fault === fault);
      return row(fault, at === undefined ? 'no' : 'yes', at?.step ?? '-');
    }),
    '',
  ];
}

function hours(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
