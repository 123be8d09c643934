import type pg from 'pg';

export interface ListedFirm {
  readonly id: string;
  readonly name: string | null;
}

/**
 * Every firm of the installation.
 *
 * @param owner a connection of the owner of the tables: to the application, row-level security shows none
 */
export async function listFirms(owner: pg.ClientBase): Promise<ListedFirm[]> {
  const { rows } = await owner.query<ListedFirm>('select id, name from firm order by id');
  return rows;
}
