import pg from 'pg';

/**
 * What a failed write means. `refused`: the database found the values themselves wrong, and will again. `transient`: the
 * same may succeed when tried again, or it is not known whether it did. `ours`: a rule or other code of this program
 * failed on what it was given, and will again. `other`: of the database, its driver or the machine, or not told apart
 * from that.
 */
export type Fault = 'refused' | 'transient' | 'ours' | 'other';

/** Data exception, integrity constraint violation, program limit exceeded. */
const REFUSED = ['22', '23', '54'];

/** Connection exception, transaction rollback, insufficient resources, operator intervention, object not ready. */
const TRANSIENT = ['08', '40', '53', '57', '55'];

/** A transaction that idled or lasted too long was ended by the database. */
const ENDED = ['25P03', '25P04'];

/** Node's codes for a connection that broke or was never there. */
const BROKEN = new Set(['ECONNRESET', 'ECONNREFUSED', 'EPIPE', 'ENOENT', 'ETIMEDOUT', 'ENOTCONN']);

/** What the language throws where code is wrong about what it was given. */
const OF_CODE = [TypeError, RangeError, ReferenceError, SyntaxError];

const BROKEN_MESSAGE =
  /connection terminated|connection ended|not queryable|timeout exceeded when trying to connect|query read timeout|server closed|Client has encountered a connection error/i;

/** Tables whose keys we number ourselves: a clash there is a fault of ours and says nothing about what was sent. */
const NUMBERED = new Set(['ledger', 'head', 'receipt', 'client']);

/** Took longer, idled longer or needed more than the database allows: due to one push, it would be so again. */
const OVERRUN = new Set(['57014', '25P03', '25P04', '53200']);

export function isOverrun(error: unknown): boolean {
  return error instanceof pg.DatabaseError && OVERRUN.has(error.code ?? '');
}

/** A statement came after one that had failed, whose own error is not known here. */
export function isAfterFailed(error: unknown): boolean {
  return error instanceof pg.DatabaseError && error.code === '25P02';
}

export function faultOf(error: unknown): Fault {
  if (error instanceof pg.DatabaseError && error.code !== undefined) {
    if (error.code === '23505' && NUMBERED.has(error.table ?? '')) return 'other';
    const family = error.code.slice(0, 2);
    if (REFUSED.includes(family)) return 'refused';
    return TRANSIENT.includes(family) || ENDED.includes(error.code) ? 'transient' : 'other';
  }
  if (!(error instanceof Error)) return 'other';
  const code = 'code' in error ? String(error.code) : '';
  if (BROKEN.has(code) || BROKEN_MESSAGE.test(error.message)) return 'transient';
  // a plain error may be the driver's, and too little memory says nothing about what was given
  return OF_CODE.some((kind) => error instanceof kind) && !/allocat/i.test(error.message) ? 'ours' : 'other';
}
