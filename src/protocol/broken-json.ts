/** What may come next in a JSON text. */
type Expected = 'value' | 'value-or-end' | 'name' | 'name-or-end' | 'colon' | 'comma' | 'nothing';
type Open = '{' | '[';

const SPACE = /[ \t\n\r]*/y;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /[\p{L}_$][\p{L}\p{N}_$]*/uy;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const LITERALS = ['true', 'false', 'null'];

interface Fault {
  readonly at: number;
  readonly why: string;
}

function matchAt(pattern: RegExp, text: string, at: number): string {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0] ?? '';
}

/** Where a text in quotation marks ends, or what is wrong with it. */
function endOfText(text: string, from: number): number | Fault {
  for (let at = from + 1; at < text.length; at++) {
    const char = text.charAt(at);
    if (char === '"') return at + 1;
    if (char < ' ') return { at, why: 'a line end or control character stands within a text: write it as an escape' };
    if (char !== '\\') continue;
    const escaped = matchAt(ESCAPE, text, at);
    if (escaped === '') return { at, why: `${text.slice(at, at + 2)} is no escape; a backslash is written \\\\` };
    at += escaped.length - 1;
  }
  return { at: from, why: 'the text that begins here has no closing quotation mark' };
}

/** Where a value that is no array or object ends, or what is wrong with it. */
function endOfPlain(text: string, at: number, expected: Expected): number | Fault {
  if (text[at] === '"') return endOfText(text, at);
  const number = matchAt(NUMBER, text, at);
  if (number !== '') return at + number.length;
  const word = matchAt(WORD, text, at);
  if (LITERALS.includes(word)) return at + word.length;
  return unexpected(text, at, expected);
}

const WANTED: Readonly<Record<Expected, string>> = {
  value: 'a value',
  'value-or-end': 'a value or ]',
  name: 'the name of a field in quotation marks',
  'name-or-end': 'the name of a field in quotation marks, or }',
  colon: 'a colon',
  comma: 'a comma',
  nothing: 'the end',
};

function hint(found: string, expected: Expected): string {
  if (found === "'") return '; texts stand in "quotation marks"';
  if (found === '}' && expected === 'name') return '; the last field has no comma after it';
  if (found === ']' && expected === 'value') return '; the last item has no comma after it';
  if (found === '/') return '; JSON has no comments';
  return /^(?:NaN|Infinity|undefined|None)$/.test(found) ? '; what is not known is left out' : '';
}

function unexpected(text: string, at: number, expected: Expected): Fault {
  if (at >= text.length) return { at, why: `it ends where ${WANTED[expected]} is expected` };
  const found = matchAt(WORD, text, at).slice(0, 40) || String.fromCodePoint(text.codePointAt(at) ?? 0);
  return { at, why: `${found} stands where ${WANTED[expected]} is expected${hint(found, expected)}` };
}

/** Reads on until something is wrong, with what is open kept in a list: a text may be nested deeper than a stack is. */
class Reader {
  readonly #text: string;
  readonly #open: Open[] = [];
  #at = 0;
  #expected: Expected = 'value';

  constructor(text: string) {
    this.#text = text;
  }

  fault(): Fault | null {
    for (;;) {
      this.#at += matchAt(SPACE, this.#text, this.#at).length;
      if (this.#expected === 'nothing' && this.#at >= this.#text.length) return null;
      const fault = this.#step(this.#text.charAt(this.#at));
      if (fault) return fault;
    }
  }

  #step(char: string): Fault | null {
    switch (this.#expected) {
      case 'colon':
        return char === ':' ? this.#go(1, 'value') : this.#wrong();
      case 'comma':
        return this.#afterValue(char);
      case 'name':
      case 'name-or-end':
        return this.#name(char);
      case 'nothing':
        return this.#wrong();
      default:
        return this.#value(char);
    }
  }

  #afterValue(char: string): Fault | null {
    const inside = this.#open.at(-1);
    if (char === ',') return this.#go(1, inside === '{' ? 'name' : 'value');
    if (char === (inside === '{' ? '}' : ']')) return this.#close();
    return this.#wrong(inside === '{' ? ' or }' : ' or ]');
  }

  #name(char: string): Fault | null {
    if (char === '}' && this.#expected === 'name-or-end') return this.#close();
    if (char !== '"') return this.#wrong();
    const end = endOfText(this.#text, this.#at);
    return typeof end === 'number' ? this.#go(end - this.#at, 'colon') : end;
  }

  #value(char: string): Fault | null {
    if (char === ']' && this.#expected === 'value-or-end') return this.#close();
    if (char === '{' || char === '[') {
      this.#open.push(char);
      return this.#go(1, char === '{' ? 'name-or-end' : 'value-or-end');
    }
    const end = endOfPlain(this.#text, this.#at, this.#expected);
    return typeof end === 'number' ? this.#go(end - this.#at, this.#next()) : end;
  }

  #close(): null {
    this.#open.pop();
    return this.#go(1, this.#next());
  }

  #next(): Expected {
    return this.#open.length === 0 ? 'nothing' : 'comma';
  }

  #go(by: number, expected: Expected): null {
    this.#at += by;
    this.#expected = expected;
    return null;
  }

  #wrong(or = ''): Fault {
    const { at, why } = unexpected(this.#text, this.#at, this.#expected);
    return { at, why: why.replace(WANTED[this.#expected], `${WANTED[this.#expected]}${or}`) };
  }
}

/**
 * What is wrong with a text that is no JSON, and where: line and column count from 1.
 *
 * @returns null for a text that is JSON
 * @example brokenJson('{"ph": 7.1,}') // 'line 1, column 12: } stands where the name of a field ...'
 */
export function brokenJson(text: string): string | null {
  const fault = new Reader(text).fault();
  if (!fault) return null;
  const before = text.slice(0, fault.at).split('\n');
  return `line ${before.length}, column ${(before.at(-1) ?? '').length + 1}: ${fault.why}`;
}
