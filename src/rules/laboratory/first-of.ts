/** The most bottles or samples that one sentence names; beyond it they are counted. */
const SHOWN = 20;

/** "A, B, C and 4 more". */
export function firstOf(names: readonly string[]): string {
  const more = names.length > SHOWN ? ` and ${names.length - SHOWN} more` : '';
  return `${names.slice(0, SHOWN).join(', ')}${more}`;
}
