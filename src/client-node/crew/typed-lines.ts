import type { Keys } from './reading-mode.ts';

export interface TypedLines {
  /** Asks, and gives the line that is typed then; null at the end of what is typed. */
  ask(question: string): Promise<string | null>;
  close(): Promise<void>;
}

/** Whole lines, one at each question; a terminal shows what is typed by itself. */
export function typedLines(keys: Keys, write: (text: string) => void): TypedLines {
  const chunks = keys[Symbol.asyncIterator]();
  let typed = '';
  const nextLine = async (): Promise<string | null> => {
    for (;;) {
      const end = typed.search(/[\r\n]/);
      if (end >= 0) {
        const line = typed.slice(0, end);
        typed = typed.slice(typed.startsWith('\r\n', end) ? end + 2 : end + 1);
        return line.trim();
      }
      const { done, value } = await chunks.next();
      if (done) return null;
      typed += String(value);
    }
  };
  return {
    ask: async (question) => {
      write(question);
      const line = await nextLine();
      if (!keys.isTTY) write('\n');
      return line;
    },
    close: async () => void (await chunks.return?.()),
  };
}
