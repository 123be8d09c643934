/** Something that is stored otherwise than the ledger says it should be. */
export interface Difference {
  readonly feed: string;
  readonly kind: string;
  readonly id: string;
  /**
   * `history`: a row of the ledger does not follow from the one before it (the first such row of a feed). `head`: the newest state is noted wrongly.
   * `place`: it lives elsewhere than its fields say. `merge`: what is remembered for merging. `record`: what is shown of
   * its values. `derived`: an assessment, flag or conflict is missing, left over, or says something else.
   */
  readonly what: 'history' | 'head' | 'place' | 'merge' | 'record' | 'derived';
  readonly detail: string;
}
