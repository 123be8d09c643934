import type { z } from 'zod';
import { kindShapes } from '../../../src/doors/rest/kind-shapes.ts';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { mutation, outcome } from '../../../src/protocol/mutation.ts';
import { feedList, feedPage, pushAnswer, pushHeader, verifyBuckets } from '../../../src/protocol/sync.ts';
import type { WireSchemas } from './wire-shape.ts';

/** What every record has around its fields, whatever its kind. */
function recordEnvelope(): z.ZodType {
  const [any] = KINDS;
  if (!any) throw new Error('there are no kinds');
  return (kindShapes(any).record as z.ZodObject).omit({ kind: true, fields: true });
}

export const WIRE: WireSchemas = {
  kinds: KINDS,
  messages: {
    record: { direction: 'told', schema: recordEnvelope() },
    mutation: { direction: 'sent', schema: mutation },
    outcome: { direction: 'told', schema: outcome },
    'push header': { direction: 'sent', schema: pushHeader },
    'push answer': { direction: 'told', schema: pushAnswer },
    'feed list': { direction: 'told', schema: feedList },
    'feed page': { direction: 'told', schema: feedPage },
    verify: { direction: 'told', schema: verifyBuckets },
  },
};
