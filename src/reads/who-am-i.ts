import type { RecordState } from '../protocol/record.ts';
import { recordById } from '../store/read/records.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

/** The records behind a token; null where the token has no device, nobody is at it, or a record is not here. */
export interface Identity {
  readonly firm: RecordState | null;
  readonly device: RecordState | null;
  readonly person: RecordState | null;
  /** The one that a token of that role speaks for. */
  readonly laboratory: RecordState | null;
}

export async function whoAmI(ctx: ReadContext, reader: Reader): Promise<Identity> {
  return ctx.records.read(reader.firm, async (tx) => {
    const find = async (id: unknown, kind: string) => {
      const record = typeof id === 'string' ? await recordById(tx, id) : null;
      return record?.state.kind === kind ? record.state : null;
    };
    const firm = await find(reader.firm, 'firm');
    const device = await find(reader.device, 'device');
    const laboratory = await find(reader.laboratory, 'laboratory');
    return { firm, device, person: await find(device?.fields.person, 'member'), laboratory };
  });
}
