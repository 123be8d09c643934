import type { ReadMutation } from '../../protocol/read-mutation.ts';
import type { StampedClock } from '../../protocol/record.ts';
import type { Writer } from '../held.ts';
import type { Seen } from '../merge/register.ts';
import type { Carrier } from './carried.ts';
import type { RightIn } from './event-right.ts';

/** A mutation with who makes it and what they had seen. */
export interface Request {
  readonly read: ReadMutation;
  readonly writer: Writer;
  readonly clock: StampedClock | null;
  /** What the writer had in view of the record; null where it is not known, so that nothing is superseded. */
  readonly seen: Seen | null;
  /** Of a crew: in which events it may write; missing for everybody else, and on a phone, which leaves it to the server. */
  readonly rightIn?: RightIn | null;
  /** Who hands in what another device captured; missing where its own does. */
  readonly carrier?: Carrier | null;
}

/** The person on whose behalf a change is made. */
export function personOf(request: Request): string | null {
  return request.read.mutation.by ?? request.writer.person;
}
