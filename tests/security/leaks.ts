import { Buffer } from 'node:buffer';
import { SPENT } from './attacks.ts';
import type { FirmIds } from './firm-ids.ts';
import type { Answered } from './speaker.ts';

const UUIDS = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;

/** The text as it looks inside base64, wherever it begins there: what was set aside is given out so. */
function inBase64(text: string): string[] {
  return [0, 1, 2].map((shift) => {
    const bytes = Buffer.from('.'.repeat(shift) + text);
    const whole = bytes.subarray(0, bytes.length - (bytes.length % 3)).toString('base64');
    return whole.slice(shift === 0 ? 0 : 4);
  });
}

/** Finds in any text what only the victim can have told. */
export class LeakDetector {
  readonly #texts: readonly string[];
  readonly #ids: ReadonlySet<string>;

  constructor(canary: string, victim: FirmIds) {
    this.#texts = [canary, ...inBase64(canary)];
    const unnamed = [...victim.byKind.values()].flatMap((ids) => ids.filter((_, at) => !SPENT.includes(at)));
    this.#ids = new Set(unnamed);
  }

  /** @returns what was found; nothing where all is well */
  in(text: string): string[] {
    const found = this.#texts.filter((one) => text.includes(one));
    const ids = (text.match(UUIDS) ?? []).filter((id) => this.#ids.has(id));
    return [...found, ...ids];
  }
}

/** Numbers and ids that are new in every answer. */
const FRESH: readonly (readonly [RegExp, string])[] = [
  [/"requestId":"[^"]*"/g, '"requestId":"?"'],
  [/"(seq|rev|tail)":\d+/g, '"$1":0'],
  [/wrt_[\w-]{43}/g, 'SECRET'],
  // a change of our own record that names nothing: what it meets there depends on what was tried before
  [/"outcome":"(applied|merged|conflict_kept)"/gi, '"outcome":"taken"'],
  [/,"conflicts":\[[^\]]*\]/g, ''],
];

/** An answer without what is new in every one, and without the id that was sent: the rest tells whether it is known. */
export function told({ status, text, headers }: Answered, sent: string): string {
  const named = text.replaceAll(sent, 'SENT');
  const plain = FRESH.reduce((whole, [form, instead]) => whole.replace(form, instead), named).replace(UUIDS, 'UUID');
  return `${status} ${String(headers['content-type'])} ${plain}`;
}
