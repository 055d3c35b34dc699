import { readDocument, type Written } from '../../site/document.ts';
import { parseSurvey } from '../../site/parse-survey.ts';
import type { Survey } from '../../site/survey.ts';

/** A survey as somebody wrote it, beside what it says. */
export type Site = { readonly written: Written; readonly survey: Survey };

type Read = { readonly text: string; readonly site: Site | null };

/** The text in hand and the one before it. */
let held: readonly Read[] = [];

/** Reads a survey's text; null where it cannot be read. The text in hand is read once, not at every key. */
export function siteOf(text: string): Site | null {
  const known = held.find((one) => one.text === text);
  if (known) return known.site;
  const fresh = { text, site: read(text) };
  held = [fresh, ...held.slice(0, 1)];
  return fresh.site;
}

function read(text: string): Site | null {
  const parsed = parseSurvey(text, 'survey.yaml');
  const document = readDocument(text, 'survey.yaml');
  return parsed.ok && 'written' in document ? { written: document.written, survey: parsed.survey } : null;
}

/** What stands at a path of fields, ids and positions; null where nothing does. */
export function writtenAt(top: Written, path: string): Written | null {
  let here: Written | undefined = top;
  for (const step of path.split('.')) {
    if (typeof here !== 'object') return null;
    here = isList(here)
      ? (here.find((entry) => idOf(entry) === step) ?? here[Number(step) - 1])
      : (here as Readonly<Record<string, Written>>)[step];
  }
  return here ?? null;
}

/** The entries of a list, by what each goes by, else by its place from 1. */
export function namesIn(top: Written, path: string): readonly string[] {
  const list = writtenAt(top, path);
  return isList(list) ? list.map((entry, index) => idOf(entry) ?? String(index + 1)) : [];
}

function idOf(entry: Written): string | null {
  const id =
    typeof entry === 'object' && !isList(entry) ? (entry as Readonly<Record<string, Written>>).id : null;
  return typeof id === 'string' ? id : null;
}

function isList(written: Written | null | undefined): written is readonly Written[] {
  return Array.isArray(written);
}
