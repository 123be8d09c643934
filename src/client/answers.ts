import { z } from 'zod';
import { feedList, feedPage, pushAnswer, verifyBuckets } from '../protocol/sync.ts';

/**
 * What a phone insists on in an answer. A phone is often older than its server: members and outcomes that it does not
 * know are let through, since an answer that it calls unreadable would be asked for again for ever.
 */
const row = z.union([
  z.looseObject({
    seq: z.int(),
    record: z.looseObject({ kind: z.string(), id: z.string(), rev: z.int(), fields: z.looseObject({}) }),
  }),
  z.looseObject({ seq: z.int(), gone: z.looseObject({ kind: z.string(), id: z.string() }) }),
]);
const listed = z.looseObject(feedList.shape.feeds.element.shape);
const outcome = z.looseObject({ mutationId: z.int(), outcome: z.string() });
const bucket = z.looseObject(verifyBuckets.shape.buckets.element.shape);

export const feedListAnswer = z.looseObject({ ...feedList.shape, feeds: z.array(listed) });
export const feedPageAnswer = z.looseObject({ ...feedPage.shape, rows: z.array(row) });
export const pushAnswerAnswer = z.looseObject({ ...pushAnswer.shape, outcomes: z.array(outcome) });
export const verifyAnswer = z.looseObject({
  ...verifyBuckets.shape,
  buckets: z.array(bucket),
  rows: z.array(row).optional(),
});
