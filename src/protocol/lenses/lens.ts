/** A mutation as JSON, of which nothing is known yet. */
export type Given = Readonly<Record<string, unknown>>;

/**
 * One step: what a phone of version `from` wrote, as a phone of the next version would have written it. Pure, and it
 * leaves alone what says which mutation it is (number, id, clock): a release reads the same bytes again years later.
 *
 * There is no way back: feeds are told alike to phones of every version, since their hashes cover each record. So what
 * is told may only be added to, and a lens is for what is sent.
 */
export interface Lens {
  readonly from: number;
  /** The shapes of what is sent were only added to all the same, which `tests/protocol/wire/wire.test.ts` then proves. */
  readonly onlyAdds?: true;
  lift(mutation: Given): Given;
}
