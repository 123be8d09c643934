import { derivedId } from '../derived-id.ts';

/** The record of a decision goes by the mutation that decided. */
export function resolutionId(client: string, mutation: number): string {
  return derivedId(client, 'resolution', String(mutation));
}
