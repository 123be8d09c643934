import type { Run } from '../pdf/runs.ts';
import { localDay } from '../time/local-time.ts';
import type { OldText, Written } from './custody-facts.ts';

function oldRuns(old: OldText, next: string, timeZone: string): readonly Run[] {
  const why = old.reason ? `: ${old.reason}` : '';
  return [
    { text: old.text === '' ? '(empty)' : old.text, look: 'struck' },
    { text: ' ' },
    { text: next === '' ? '(empty)' : next, look: 'bold' },
    { text: ` (${old.initials} ${localDay(old.at, timeZone)}${why}) `, look: 'quiet' },
  ];
}

/** A value as it is now, without what it was. */
export function shown(written: Written): string {
  return typeof written === 'string' ? written : written.now;
}

/**
 * A value as it stands on paper: one line through the old one, the new one beside it, initials, date and reason. Common
 * practice of bound field books.
 */
export function writtenRuns(written: Written | undefined, timeZone: string): readonly Run[] {
  if (written === undefined) return [];
  if (typeof written === 'string') return [{ text: written }];
  if (written.was.length === 0) return [{ text: written.now }];
  return written.was.flatMap((old, at) => oldRuns(old, written.was[at + 1]?.text ?? written.now, timeZone));
}

/** What is on the page where a value is asked for and nobody gave one. */
export const NOT_RECORDED: Run = { text: 'not recorded', look: 'quiet' };

export function toldRuns(written: Written | undefined, timeZone: string): readonly Run[] {
  const runs = writtenRuns(written, timeZone);
  return runs.length > 0 ? runs : [NOT_RECORDED];
}
