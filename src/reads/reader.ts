import type { Role } from '../protocol/kind.ts';

/** Who asks: a token of a firm. */
export interface Reader {
  readonly firm: string;
  readonly token: string;
  readonly role: Role;
  readonly device: string | null;
  /** The laboratory that a token of that role speaks for. */
  readonly laboratory?: string | null;
}
