import { CODES, type Code } from './codes.ts';

/** What goes wrong on the way to an answer: a code of the registry, what was given, and what to do (RFC 9457). */
export class Problem extends Error {
  readonly code: Code;
  /** Further members of the answer, such as `pointer`, `expected` or `reason`. */
  readonly members: Readonly<Record<string, unknown>>;

  constructor(code: Code, detail: string, members: Readonly<Record<string, unknown>> = {}) {
    super(detail);
    this.name = 'Problem';
    this.code = code;
    this.members = members;
  }

  get status(): number {
    return CODES[this.code].status;
  }
}
