import { writeFileSync } from 'node:fs';
import { test } from 'vitest';
import { walkDrawn } from './differences.ts';

const FROM = Number(process.env.FROM ?? 1);
const COUNT = Number(process.env.COUNT ?? 20);
test('scan', () => {
  const table = new Map<string, { count: number; seeds: number[]; eg: string[] }>();
  let [done, closed] = [0, 0];
  for (let seed = FROM; seed < FROM + COUNT; seed++) {
    const walked = walkDrawn(seed, { unknowns: process.env.UNKNOWNS !== undefined });
    if (walked === null) continue;
    done += 1;
    closed += walked.closed ? 1 : 0;
    for (const { category, says } of walked.differences) {
      const row = table.get(category) ?? { count: 0, seeds: [], eg: [] };
      row.count += 1;
      if (!row.seeds.includes(seed)) {
        if (row.eg.length < 2) row.eg.push(`${seed}: ${says}`);
        row.seeds.push(seed);
      }
      table.set(category, row);
    }
  }
  const rows = [...table].sort((a, b) => a[0].localeCompare(b[0]));
  writeFileSync(
    `/tmp/drawn-${FROM}.txt`,
    `${done} sites, ${closed} closed\n${rows.map(([key, { count, seeds, eg }]) => `${seeds.length}\t${count}\t${key}\n\t\t${eg.join('\n\t\t')}`).join('\n')}\n`,
  );
}, 7_200_000);
