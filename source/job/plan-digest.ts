import { sha256 } from '../journal/digest.ts';
import type { Plan } from '../plan/plan.ts';
import { planToJson } from '../plan/plan-to-json.ts';

/**
 * SHA-256 of a plan's JSON without its place: what a journal keeps of it, so that a later version notices that it
 * would plan otherwise.
 */
export function planDigest(plan: Plan): string {
  const { site: _, ...figures } = planToJson(plan);
  return sha256(JSON.stringify(figures));
}
