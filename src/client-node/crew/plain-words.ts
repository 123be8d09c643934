import type { LocalError } from '../../client/local-error.ts';
import { fieldWords } from '../../protocol/field-words.ts';

const FIGURE = /is not a decimal string/;

/** A fault as it stands in the message of the library: kind.field, what is wrong, what was given. */
const FAULT = /^([a-z-]+)((?:\.[\w-]+)*) (?:(is missing)(?:: .*)?|(?:cannot be read: )?(.*?) \(given: (.*)\))\.?$/;

function plainly(fault: string): string {
  const [, kind = '', path = '', missing, wrong = '', given = ''] = FAULT.exec(fault.trim()) ?? [];
  if (kind === '') return fault.trim();
  const field = path.split('.').at(-1) ?? '';
  const what = field === '' ? `the ${kind.replaceAll('-', ' ')}` : fieldWords(field);
  if (missing !== undefined) return `${what} is missing`;
  if (FIGURE.test(wrong)) return `${what} is no figure: ${given} was given, 12.34 or -0.35 may stand there`;
  return `${what}: ${given} cannot stand there (${wrong})`;
}

/** What is wrong with each field, all at once, in the words of the trade. */
export function inPlainWords({ code, message }: LocalError): string {
  if (code !== 'unreadable_fields') return message;
  const faults = message.replace(/ Correct it and try again\.$/, '').split(/; (?=[a-z-]+\.)/);
  return `not kept: ${faults.map(plainly).join('; ')}`;
}
