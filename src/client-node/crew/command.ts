import { CrewError } from './crew-error.ts';
import type { Crew } from './open-crew.ts';
import type { Keys } from './reading-mode.ts';

export interface Given {
  readonly words: readonly string[];
  readonly option: (name: string) => string | undefined;
  readonly said: (flag: string) => boolean;
  readonly keys: Keys;
  readonly write: (text: string) => void;
}

/** What a command gives back: false where it could not be completed and nothing was lost. */
type Run = (crew: Crew, given: Given) => Promise<unknown>;

export interface Command {
  readonly usage: string;
  readonly does: string;
  /** It records something that may have been seen a while ago: at=09:45 says when. */
  readonly takesTime?: true;
  readonly run: Run;
}

export type Commands = Readonly<Record<string, Command>>;

export function word({ words }: Pick<Given, 'words'>, at: number, usage: string): string {
  const found = words[at];
  if (found !== undefined && found !== '') return found;
  throw new CrewError(`something is missing: crew ${usage}`);
}
