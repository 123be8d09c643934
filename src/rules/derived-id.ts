import { v5 } from 'uuid';

/**
 * The id of a record that the server makes: the same for the same firm and subject, whoever computes it and whenever.
 *
 * @param firm the namespace
 * @param parts what it is derived from, such as a rule and a subject
 */
export function derivedId(firm: string, ...parts: readonly string[]): string {
  return v5(parts.join('\n'), firm);
}
