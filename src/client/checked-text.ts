import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { StoreError } from './store-error.ts';

const CHECK_LENGTH = 16;

function checkOf(key: string, text: string): string {
  return bytesToHex(sha256(utf8ToBytes(`${key}\n${text}`))).slice(0, CHECK_LENGTH);
}

/** A value as text, with a check that covers it and the key under which it is kept. */
export function checkedText(key: string, value: unknown): string {
  const text = JSON.stringify(value);
  return `${checkOf(key, text)} ${text}`;
}

/** Undefined where it is not what was written under this key. */
export function readCheckedText<Value>(key: string, stored: unknown): Value | undefined {
  if (typeof stored !== 'string') return undefined;
  const text = stored.slice(CHECK_LENGTH + 1);
  return stored.startsWith(`${checkOf(key, text)} `) ? (JSON.parse(text) as Value) : undefined;
}

export function damagedValue(where: string, key: string): StoreError {
  return new StoreError(
    'store_damaged',
    `"${key}" in ${where} is not what was written there. Nothing was changed now. Recover: that keeps every record that was not sent and can still be read, and pulls the rest anew`,
  );
}
