/** Something that is stored otherwise than the ledger says it should be. */
export interface Difference {
  /** `-` where it is not known any more. */
  readonly feed: string;
  readonly kind: string;
  readonly id: string;
  /**
   * `history`: a row of the ledger does not follow from the one before it (the first such row of a feed), or a row that
   * others witness is not there. `receipt`: what a client was told is missing. `head`: the newest state is noted wrongly.
   * `place`: it lives elsewhere than its fields say. `merge`: what is remembered for merging. `record`: what is shown of
   * its values. `typed`: its typed table has another revision. `derived`: an assessment, flag or conflict is missing, left
   * over, or says something else.
   */
  readonly what: 'history' | 'receipt' | 'head' | 'place' | 'merge' | 'record' | 'typed' | 'derived';
  readonly detail: string;
}
