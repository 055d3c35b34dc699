import { createCipheriv, createDecipheriv, createHash, randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { deserialize, serialize } from 'node:v8';
import { boardPath, boardsFolder } from '../job/board-path.ts';
import { keptForm, type PlanKeeper, takenUp } from '../job/kept-plan.ts';
import type { SiteFiles } from '../job/site-files.ts';
import { sha256 } from '../journal/digest.ts';
import type { Plan } from '../plan/plan.ts';

/** A plan, and the texts it was made of as they were read. */
type Made = { readonly plan: Plan; readonly site: Pick<SiteFiles, 'surveyText' | 'boardFiles'> };

/**
 * The plan of a survey file, made once: while survey and boards say the same, the same program plans the same, whether it is
 * asked to print, to explain or for JSON. A plan names the place, so it is kept sealed with a key that only the survey's own
 * text gives: whoever erases the survey has erased the place.
 *
 * @param named boards that stand in for those of the survey
 * @param make reads survey and boards, and plans
 */
export async function planOnce(
  surveyFile: string,
  named: readonly string[],
  keeper: PlanKeeper | undefined,
  make: () => Promise<Made>,
): Promise<Plan> {
  const text = keeper ? textOf(surveyFile) : null;
  if (!keeper || text === null) return (await make()).plan;
  const { name, seal } = keysOf([text, ...named]);
  const kept = unsealed(keeper.read(name), seal);
  const folder = boardsFolder(surveyFile, named);
  const isAsItWas = ({ file, digest }: Kept['boards'][number]) =>
    digest === sha256(textOf(boardPath(file, folder)) ?? '');
  if (kept?.boards.every(isAsItWas)) return takenUp(kept.plan);
  const { plan, site } = await make();
  const boards = site.boardFiles.map(({ file, text }) => ({ file, digest: sha256(text) }));
  // Kept under what was planned: somebody may have written to the file since it was looked at.
  const made = keysOf([site.surveyText, ...named]);
  keeper.keep(made.name, sealed({ boards, plan: keptForm(plan) }, made.seal));
  return plan;
}

/** Of all that was given one digest: half is the name to keep under, half the key to seal with. */
function keysOf(given: readonly string[]): { readonly name: string; readonly seal: Buffer } {
  const digest = createHash('sha512').update(JSON.stringify(given)).digest();
  return { name: digest.toString('hex', 0, 16), seal: digest.subarray(32) };
}

const CIPHER = 'aes-256-gcm';
const NONCE_BYTES = 12;
const TAG_BYTES = 16;

type Kept = {
  readonly boards: readonly { readonly file: string; readonly digest: string }[];
  /** In its kept form. */
  readonly plan: Uint8Array;
};

function sealed(kept: Kept, key: Buffer): Buffer {
  const nonce = randomBytes(NONCE_BYTES);
  const cipher = createCipheriv(CIPHER, key, nonce);
  return Buffer.concat([nonce, cipher.update(serialize(kept)), cipher.final(), cipher.getAuthTag()]);
}

/** What was sealed with this key; null where there is none. */
function unsealed(bytes: Uint8Array | undefined, key: Buffer): Kept | null {
  if (bytes === undefined) return null;
  try {
    const open = createDecipheriv(CIPHER, key, bytes.subarray(0, NONCE_BYTES));
    open.setAuthTag(bytes.subarray(-TAG_BYTES));
    return deserialize(Buffer.concat([open.update(bytes.subarray(NONCE_BYTES, -TAG_BYTES)), open.final()]));
  } catch {
    return null;
  }
}

function textOf(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}
