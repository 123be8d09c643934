import type { InputRef } from '@pothos/core';
import type { KindDefinition } from '../../protocol/kind.ts';
import type { OneShot } from '../one-shot.ts';
import { fieldsOf } from './shapes.ts';
import { pascal } from './type-names.ts';
import type { GraphTypes } from './types.ts';
import { describe } from './value-types.ts';
import { writeResultType } from './write-result-type.ts';

/** A transaction, with all that follows from it. */
export const WRITE_COST = 2_500;

const KEY = 'A request repeated under its key is done once and answered the same; one key a change';
export const SEEN = 'The revision that you had seen: what others changed since is merged, or kept beside yours';

/** The pieces that every mutation is made of. */
export class WriteParts {
  readonly types: GraphTypes;
  readonly result: ReturnType<typeof writeResultType>;
  readonly clock: InputRef<unknown>;

  constructor(types: GraphTypes) {
    this.types = types;
    this.result = writeResultType(types);
    this.clock = types.builder.inputType('DeviceClockInput', {
      description: 'What the device says of its clocks as it captures.',
      fields: (t) => ({
        wall: t.string({ required: true, description: 'With offset' }),
        monotonicMs: t.float({ required: true }),
        boot: t.string({ required: true }),
        sequence: t.float({ required: true }),
      }),
    });
  }

  /** What every change may say beside the record. */
  manner(reason: 'needed' | 'optional') {
    return this.types.builder.args((t) => ({
      reason: t.string({ required: reason === 'needed', description: 'Why; needed to correct what was observed' }),
      by: t.id({ description: 'The member on whose behalf; the one at the device if missing' }),
      requires: t.idList({ description: 'Records that must be here first; the change waits for them' }),
      clock: t.field({ type: this.clock }),
      idempotencyKey: t.string({ description: KEY }),
    }));
  }

  input(kind: KindDefinition, name: string, all: boolean): InputRef<unknown> {
    const { builder, values } = this.types;
    const path = pascal(kind.name);
    return builder.inputType(name, {
      description: kind.description,
      fields: (t) =>
        Object.fromEntries(
          fieldsOf(kind.fields).map((field) => {
            const type = values.input(field, path) as InputRef<unknown>;
            return [field.name, t.field({ type, required: all && field.required, ...describe(field) })];
          }),
        ),
    });
  }
}

/** What the writer had seen, as a mutation says it. */
export function baseOf(rev: number | null | undefined): Pick<OneShot, 'base'> {
  return rev == null ? {} : { base: { rev } };
}
