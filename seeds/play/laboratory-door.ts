import { randomUUID } from 'node:crypto';

interface Door {
  readonly base: string;
  readonly token: string;
}

/** Posts to the server as another program would. @throws Error with what the server answered, where it refused */
export async function postJson({ base, token }: Door, path: string, body: unknown): Promise<unknown> {
  const response = await fetch(`${base}${path}`, {
    method: 'POST',
    headers: {
      authorization: `Bearer ${token}`,
      'content-type': 'application/json',
      'idempotency-key': randomUUID(),
    },
    body: JSON.stringify(body),
  });
  const text = await response.text();
  if (!response.ok) throw new Error(`POST ${path} was answered ${response.status}: ${text}`);
  return JSON.parse(text);
}
