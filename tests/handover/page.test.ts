import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LABEL_SHEETS } from '../../source/handover/label-sheets.ts';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeLabels } from '../../source/handover/write-handover.ts';
import { PROOF, report } from '../scale.ts';
import { axeFindings, CHROMIUM, launchBrowser, openPage, SIZES, type Size } from './browser.ts';
import { brokenLabels, misplaced } from './geometry.ts';
import { carryOutJob, JOBS, type JobName, writePapers } from './jobs.ts';
import { printedPage } from './page-breaks.ts';

const CASES = JOBS.flatMap((job) => (Object.keys(SIZES) as Size[]).map((size) => [job, size] as const));

describe.skipIf(CHROMIUM === undefined)('the pages in Chromium', () => {
  const folder = mkdtempSync(join(tmpdir(), 'handover-page-'));
  const papers = new Map<JobName, string>();
  let browser: Browser;

  beforeAll(async () => {
    browser = await launchBrowser();
    for (const job of JOBS) papers.set(job, writePapers(await carryOutJob(job, folder)));
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const open = (job: JobName, name: string, size: Size) =>
    openPage(browser, join(papers.get(job)!, `${name}.html`), size);

  test.each(CASES)('%s at %s: nothing overlaps, is cut or runs off the page', async (job, size) => {
    const { page, close } = await open(job, 'handover', size);
    expect(await misplaced(page)).toEqual([]);
    await close();
  });

  // The long page is built of the same parts as the short one; every size of both is a matter of the proof.
  const asked = CASES.filter(([job, size]) => PROOF || (job === 'demo' && size !== 'A4'));
  test.each(asked)('%s at %s: axe finds nothing', async (job, size) => {
    const { page, close } = await open(job, 'handover', size);
    expect(await axeFindings(page)).toEqual([]);
    await close();
  });

  test.each(JOBS)('%s: no request leaves the page, and its policy allows none', async (job) => {
    for (const name of ['handover', 'zone-card', 'labels']) {
      const { page, requests, close } = await open(job, name, 'laptop');
      expect(requests).toEqual([pathToFileURL(join(papers.get(job)!, `${name}.html`)).href]);
      const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
      expect(policy).toMatch(/^default-src 'none';/);
      await close();
    }
  });

  test.each(JOBS)('%s in print: no heading stands alone, no row and no drawing is cut', async (job) => {
    const { page, close } = await open(job, 'handover', 'A4');
    const { broken, pages, looked } = await printedPage(page);
    expect(broken).toEqual([]);
    expect(pages).toBeGreaterThan(5);
    expect(looked.headings).toBeGreaterThan(30);
    expect(looked.whole).toBeGreaterThan(200);
    report('Printed', [{ job, pages, ...looked }]);
    await close();
  });

  test.each(Object.keys(SIZES) as Size[])(
    'hostile names at %s: nothing runs, overlaps or is cut',
    async (size) => {
      papers.set('hostile', papers.get('hostile') ?? writePapers(await carryOutJob('hostile', folder)));
      for (const name of ['handover', 'zone-card']) {
        const { page, close } = await open('hostile', name, size);
        page.on('dialog', (dialog) => expect.fail(`A script ran: ${dialog.message()}`));
        expect(await page.locator('script, img, [onclick], [onerror]').count()).toBe(0);
        expect(await misplaced(page)).toEqual([]);
        await close();
      }
    },
  );

  test.each([...Object.keys(LABEL_SHEETS), '105x148 4x12 22x10'])(
    'labels on %s: each identifier whole, on one line, inside its label',
    async (sheet) => {
      const path = join(folder, 'sheet.html');
      const { plan } = readHandoverSource(join(folder, 'sixty'));
      writeFileSync(path, composeLabels(plan, sheet).get('labels.html')!);
      const { page, close } = await openPage(browser, path, 'laptop');
      expect(await brokenLabels(page)).toEqual([]);
      expect(await page.locator('.label').count()).toBeGreaterThan(100);
      await close();
    },
  );

  test.each(['zone-card', 'labels'])(
    'the %s: nothing overlaps or is cut, axe finds nothing',
    async (name) => {
      for (const job of JOBS) {
        const { page, close } = await open(job, name, 'A4');
        if (name === 'zone-card') expect(await misplaced(page)).toEqual([]);
        expect(await axeFindings(page)).toEqual([]);
        await close();
      }
    },
  );
});
