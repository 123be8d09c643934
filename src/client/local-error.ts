export type LocalErrorCode =
  | 'unknown_kind'
  | 'derived_kind'
  | 'unreadable_fields'
  | 'reason_missing'
  | 'record_not_here'
  | 'home_fixed'
  | 'newer_value'
  | 'too_large'
  | 'unreadable_copy'
  | 'copy_differs'
  | 'nobody_here'
  | 'unreadable_person';

/** The library refuses to write this into the outbox: nothing was stored, and the person at the device can mend it. */
export class LocalError extends Error {
  readonly code: LocalErrorCode;
  /** JSON Pointers to the fields, where fields are to blame. */
  readonly pointers: readonly string[];

  constructor(code: LocalErrorCode, message: string, pointers: readonly string[] = []) {
    super(message);
    this.name = 'LocalError';
    this.code = code;
    this.pointers = pointers;
  }
}
