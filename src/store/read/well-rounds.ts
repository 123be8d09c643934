import type { RecordsTx } from '../records.ts';

/** The ids of what a well's earlier rounds are told from. */
export interface WellRoundIds {
  /** Of the newest visits that ended. */
  readonly summaries: readonly string[];
  readonly points: readonly string[];
}

export async function wellRoundIds(tx: RecordsTx, well: string, most: number): Promise<WellRoundIds> {
  const where = { firm: tx.firm, well, voided: false };
  const summaries = await tx.db.visitSummary.findMany({
    where,
    orderBy: [{ arrived: 'desc' }, { id: 'desc' }],
    take: most,
    select: { id: true },
  });
  const points = await tx.db.measuringPoint.findMany({ where, select: { id: true } });
  return { summaries: summaries.map(({ id }) => id), points: points.map(({ id }) => id) };
}
