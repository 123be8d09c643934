import type { RecordsTx } from '../records.ts';

/** The ids of the wells of a nest that still count. */
export async function nestWells(tx: RecordsTx, nest: string): Promise<string[]> {
  const rows = await tx.db.well.findMany({ where: { firm: tx.firm, nest, voided: false }, select: { id: true } });
  return rows.map((row) => row.id);
}
