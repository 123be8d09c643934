import type pg from 'pg';

/** The address with this role switched on as part of the connection itself, so that nothing can run before it. */
export function asRole(address: string, role: string): pg.ClientConfig {
  const own = `-c role=${role}`;
  if (!URL.canParse(address)) return { connectionString: address, options: own };
  const url = new URL(address);
  // pg lets options in the address win over options beside it, so they are taken out and joined
  const given = url.searchParams.get('options');
  url.searchParams.delete('options');
  return { connectionString: url.href, options: given === null ? own : `${given} ${own}` };
}

/** The address for messages: without its password, and without whatever its query may hold. */
export function shownAddress(address: string): string {
  if (!URL.canParse(address)) return 'an address that is not a URL';
  const url = new URL(address);
  return `${url.protocol}//${url.username}@${url.host}${url.pathname}`;
}
