import type { TestDatabase } from './test-database.ts';

/** The message of the fault. */
export const CURSED = 'this firm fails in this test';

/**
 * Makes every change of a table fail that is about one firm, as a fault that the program does not know.
 *
 * @returns ends it
 */
export async function failingFirm(db: TestDatabase, table: string, firm: string): Promise<() => Promise<void>> {
  const owner = await db.owner();
  await owner.query(`create function cursed() returns trigger language plpgsql as $$
begin
  if coalesce(new.firm, old.firm) = '${firm}' then raise exception '${CURSED}'; end if;
  return coalesce(new, old);
end $$`);
  await owner.query(
    `create trigger cursed before insert or update or delete on ${table} for each row execute function cursed()`,
  );
  return async () => {
    await owner.query('drop function cursed cascade');
    await owner.end();
  };
}
