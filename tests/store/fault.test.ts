import pg from 'pg';
import { expect, it } from 'vitest';
import { faultOf } from '../../src/store/fault.ts';

function ofDatabase(code: string, table?: string): pg.DatabaseError {
  return Object.assign(new pg.DatabaseError('made for a test', 1, 'error'), { code, table });
}

it.each([
  ['a value out of range', ofDatabase('22003'), 'refused'],
  ['a check of a table', ofDatabase('23514', 'reading'), 'refused'],
  ['a number that we give ourselves, given twice', ofDatabase('23505', 'ledger'), 'other'],
  ['a deadlock', ofDatabase('40P01'), 'transient'],
  ['a statement that was cancelled', ofDatabase('57014'), 'transient'],
  ['a transaction that had failed before', ofDatabase('25P02'), 'other'],
  ['a connection that broke', Object.assign(new Error('read'), { code: 'ECONNRESET' }), 'transient'],
  ['a connection that ended', new Error('Connection terminated unexpectedly'), 'transient'],
  ['a rule that takes nothing for a record', new TypeError("reading 'fields' of undefined"), 'ours'],
  ['a length that cannot be', new RangeError('Invalid array length'), 'ours'],
  ['a text that is no number', new SyntaxError('Cannot convert 1.5 to a BigInt'), 'ours'],
  ['too little memory', new RangeError('Array buffer allocation failed'), 'other'],
  ['a plain error, which may be the driver’s', new Error('SASL: SCRAM-SERVER-FINAL-MESSAGE'), 'other'],
  ['a name that is not found', Object.assign(new Error('getaddrinfo'), { code: 'ENOTFOUND' }), 'other'],
  ['what is no error', 'text', 'other'],
])('%s', (_what, error, fault) => {
  expect(faultOf(error)).toBe(fault);
});
