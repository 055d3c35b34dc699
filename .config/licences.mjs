// The licences of what is bundled, from what the bundler says that it bundled.
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';

/**
 * Every package of a bundle with its licence, in the order of names.
 *
 * @param root the folder that the bundler worked in
 * @param metafile what it said
 * @throws Error where a package has no licence text, for then it must not ship
 */
export async function licences(root, metafile) {
  const texts = [];
  for (const folder of packagesOf(metafile)) {
    const { name, version, license } = JSON.parse(await readFile(join(root, folder, 'package.json'), 'utf8'));
    texts.push(`${'='.repeat(78)}\n${name} ${version} (${license})\n\n${await licenceText(root, folder)}\n`);
  }
  return `loopward holds these packages, each under its own licence.\n\n${texts.join('\n')}`;
}

/** The folders of the packages in a bundle. */
export function packagesOf({ outputs }) {
  const inputs = Object.values(outputs).flatMap((output) => Object.entries(output.inputs));
  const folders = inputs
    .filter(([, { bytesInOutput }]) => bytesInOutput > 0)
    .map(([path]) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0]);
  return [...new Set(folders.filter(Boolean))].sort((a, b) => nameOf(a).localeCompare(nameOf(b)));
}

/** Packages that come without their text, and one of the same holder under the same licence, as their files say. */
const SAME_HOLDER = { 'yoga-layout': 'react' };

const nameOf = (folder) => folder.split('node_modules/').at(-1);

async function licenceText(root, folder) {
  const files = await readdir(join(root, folder));
  const named = files.find((file) => /^(licen[cs]e|copying)/i.test(file));
  if (named) return (await readFile(join(root, folder, named), 'utf8')).trim();
  const same = SAME_HOLDER[nameOf(folder)];
  if (!same) throw new Error(`${folder} has no licence text.`);
  return licenceText(root, `node_modules/${same}`);
}

/** The licence of Node and all that stands in it, for an executable that holds it. */
export async function licenceOfNode() {
  // Where Node's own archives, and packages that are made of them, keep it beside the program.
  for (const file of [
    '../../LICENSE',
    '../LICENSE',
    '../share/doc/nodejs/LICENSE',
    '../share/doc/node/LICENSE',
  ]) {
    const text = await readFile(join(process.execPath, file), 'utf8').catch(() => null);
    if (text) return `${'='.repeat(78)}\nNode.js ${process.version}\n\n${text.trim()}\n`;
  }
  return `${'='.repeat(78)}\nNode.js ${process.version} (MIT, and others of what it holds)\n\nhttps://github.com/nodejs/node/blob/${process.version}/LICENSE\n`;
}
