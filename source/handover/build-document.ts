import type { HandoverDocument } from './document.ts';
import { firstSection } from './sections/first.ts';
import { jobSection } from './sections/job.ts';
import { logSection, verifySection, wiringSection } from './sections/log.ts';
import { circuitsSection, isolationSection, measuredSection, testsSection } from './sections/measured.ts';
import type { HandoverSource } from './sections/source.ts';
import { supplySection } from './sections/supply.ts';

/** The handover of a job: a pure function of its record, its names and what verifying it found. */
export function buildDocument(source: HandoverSource): HandoverDocument {
  const { collected, known, redacted, verdict } = source;
  const site = redacted ? null : known.site;
  const banners = [
    collected.rehearsal === null
      ? null
      : 'REHEARSAL: a simulated building. Nothing in this document was done to a real one.',
    collected.replay.state.job === 'closed' ? null : 'NOT CLOSED: the work is not finished.',
    verdict.outcome === 'broken' && verdict.firstBad !== null
      ? `DAMAGED at record ${verdict.firstBad}: what stands behind it is not proved, and nothing here counts on it.`
      : null,
    redacted ? 'Names, place and free words are left out.' : null,
  ].filter((banner) => banner !== null);
  return {
    title: `Changeover record${site === null ? '' : `: ${site.name}`}`,
    subtitle: `Job ${collected.job}. ${verdict.records} records.`,
    banner: banners.length === 0 ? null : banners.join(' '),
    sections: [
      firstSection(source),
      circuitsSection(source),
      jobSection(source),
      measuredSection(source),
      isolationSection(source),
      supplySection(source),
      testsSection(source),
      wiringSection(source),
      logSection(source),
      verifySection(source),
    ],
  };
}
