import type { TestApp } from '../../support/test-app.ts';

export interface GraphAnswer<Data> {
  readonly status: number;
  readonly data: Data;
  readonly errors: readonly {
    readonly message: string;
    readonly path?: readonly (string | number)[];
    readonly extensions: Readonly<Record<string, unknown>> & { readonly code: string };
  }[];
}

/** Asks POST /graphql as the holder of a token. */
export async function ask<Data = Record<string, never>>(
  t: TestApp,
  token: string,
  query: string,
  variables: object = {},
): Promise<GraphAnswer<Data>> {
  const headers = { authorization: `Bearer ${token}` };
  const response = await t.app.inject({ method: 'POST', url: '/graphql', headers, payload: { query, variables } });
  const { data, errors = [] } = response.json();
  return { status: response.statusCode, data, errors };
}
