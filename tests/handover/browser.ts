import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';

/** Debian's Chromium, where there is one: the page tests are skipped by name without it. */
export const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) => existsSync(path));

export const SIZES = {
  phone: { width: 390, height: 844, print: false },
  laptop: { width: 1280, height: 800, print: false },
  /** What A4 leaves between its margins of 14 mm, at 96 dots an inch. */
  A4: { width: 688, height: 1017, print: true },
} as const;
export type Size = keyof typeof SIZES;

export function launchBrowser(): Promise<Browser> {
  // The sandbox needs a user who is not root; tests in a container often run as root.
  const args = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  return chromium.launch({ executablePath: CHROMIUM!, args: [...args, '--disable-gpu'] });
}

/** A page opened from the disk at a size, and every request it made. */
export async function openPage(
  browser: Browser,
  path: string,
  size: Size,
): Promise<{ page: Page; requests: string[]; close: () => Promise<void> }> {
  const { width, height, print } = SIZES[size];
  // The policy of the page itself would keep axe out; nothing else is put into it.
  const context = await browser.newContext({ viewport: { width, height }, bypassCSP: true });
  const page = await context.newPage();
  const requests: string[] = [];
  page.on('request', (request) => requests.push(request.url()));
  if (print) await page.emulateMedia({ media: 'print' });
  await page.goto(pathToFileURL(path).href);
  return { page, requests, close: () => context.close() };
}

/** What axe-core finds on a page, as rule and place. */
export async function axeFindings(page: Page): Promise<string[]> {
  await page.addScriptTag({ path: createRequire(import.meta.url).resolve('axe-core/axe.min.js') });
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: {
        run: (
          where: unknown,
          options: object,
        ) => Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
      };
    };
    const { violations } = await axe.run({ include: ['html'] }, { resultTypes: ['violations'] });
    return violations.map(
      ({ id, nodes }) => `${id}: ${nodes.length} times, as in ${nodes[0]?.html.slice(0, 200)}`,
    );
  });
}
