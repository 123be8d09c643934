import type { ReadTx } from './transaction.ts';

/** A result of a laboratory, as far as it is asked about here. */
export interface ResultRow {
  readonly id: string;
  readonly sample: string | null;
  readonly blank: string | null;
  readonly casNumber: string | null;
  readonly analyte: string;
  readonly value: string | null;
  readonly unit: string;
  readonly reportingLimit: string | null;
  readonly condition: string;
}

/** Analytes by their CAS numbers, and by their names in small letters. */
export interface AnalytesAsked {
  readonly casNumbers: readonly string[];
  readonly names: readonly string[];
}

const COLUMNS = `r.id, r.sample, r.blank, r.cas_number as "casNumber", r.analyte, r.value::text as value, r.unit,
  r.reporting_limit::text as "reportingLimit", r.condition`;

const ASKED = '($3::text[] is null or r.cas_number = any($3) or lower(btrim(r.analyte)) = any($4))';

/** The results of these samples and blanks; of some analytes, or of all. */
export async function equipmentResults(
  tx: ReadTx,
  subjects: readonly string[],
  asked: AnalytesAsked | null,
): Promise<ResultRow[]> {
  const { rows } = await tx.client.query<ResultRow>({
    name: 'equipment-results',
    text: `select ${COLUMNS} from unnest($2::uuid[]) as t(id) cross join lateral (
  select * from laboratory_result r where r.firm = $1 and r.sample = t.id and not r.voided and ${ASKED}
  union all
  select * from laboratory_result r where r.firm = $1 and r.blank = t.id and not r.voided and ${ASKED}
  offset 0
) r order by r.id`,
    values: [tx.firm, subjects, asked?.casNumbers ?? null, asked?.names ?? null],
  });
  return rows;
}

/**
 * What blanks say as a whole: one of their results for each condition with and without a figure, which is all that it
 * takes to tell whether they failed.
 */
export async function blankConditions(tx: ReadTx, blanks: readonly string[]): Promise<ResultRow[]> {
  const { rows } = await tx.client.query<ResultRow>({
    name: 'blank-conditions',
    text: `select ${COLUMNS} from unnest($2::uuid[]) as t(id) cross join lateral (
  select distinct on (condition, value is null) * from laboratory_result
  where firm = $1 and blank = t.id and not voided
  order by condition, value is null, id offset 0
) r order by r.id`,
    values: [tx.firm, blanks],
  });
  return rows;
}
