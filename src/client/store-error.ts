export type StoreErrorCode =
  | 'store_in_use'
  | 'store_taken_over'
  | 'store_damaged'
  | 'store_full'
  | 'store_failed'
  | 'store_closed'
  | 'store_newer';

/** The store cannot do what was asked; what it holds is untouched. The message says what happened and what to do. */
export class StoreError extends Error {
  readonly code: StoreErrorCode;

  constructor(code: StoreErrorCode, message: string, cause?: unknown) {
    super(message, cause === undefined ? undefined : { cause });
    this.name = 'StoreError';
    this.code = code;
  }
}
