import type { Role } from '../protocol/kind.ts';

/** Who asks: a token of a firm. */
export interface Reader {
  readonly firm: string;
  readonly token: string;
  readonly role: Role;
  readonly device: string | null;
}
