import { BlockList, isIP } from 'node:net';
import { Problem } from '../protocol/problem.ts';

const WINDOW_MS = 60_000;

/** Of an address in a minute: who types badly five times over is not shut out, and a whole office shares one. */
const OF_ADDRESS = 30;

/**
 * Of all addresses in a minute, in one process. A code is looked up by its hash, so a guess is one at every code that
 * waits; what that comes to is reckoned beside the code (store/enrolment-secret.ts). Whoever uses it up keeps others
 * from enrolling while it lasts; that is seen at once, and those who have a token notice nothing of it.
 */
const OF_ALL = 600;

/** Addresses that may stand for many: of this machine, of private networks and of links (RFC 1918, 4193, 3927, 6598). */
const SHARED = new BlockList();
for (const [net, bits] of [
  ['127.0.0.0', 8],
  ['10.0.0.0', 8],
  ['172.16.0.0', 12],
  ['192.168.0.0', 16],
  ['169.254.0.0', 16],
  ['100.64.0.0', 10],
] as const) {
  SHARED.addSubnet(net, bits, 'ipv4');
}
SHARED.addAddress('::1', 'ipv6');
SHARED.addSubnet('fc00::', 7, 'ipv6');
SHARED.addSubnet('fe80::', 10, 'ipv6');

function boundOf(address: string): number {
  const plain = address.replace(/^::ffff:(?=\d+\.)/i, '');
  const version = isIP(plain);
  return version !== 0 && SHARED.check(plain, version === 4 ? 'ipv4' : 'ipv6') ? OF_ALL : OF_ADDRESS;
}

/**
 * Bounds the wrong guesses of a secret. A guess counts as wrong until it is known to be right, so that many at once are
 * no way around. Behind a proxy all addresses are that of the proxy, which is this machine's or a private one: whoever
 * comes from such an address is bounded with all others only, or one who guesses would keep every phone from enrolling.
 */
export class WrongGuesses {
  readonly #now: () => Date;
  #since = Number.NEGATIVE_INFINITY;
  #all = 0;
  readonly #byAddress = new Map<string, number>();

  constructor(now: () => Date) {
    this.#now = now;
  }

  /** @throws Problem `too_many` where no guess is left */
  take(address: string): void {
    const nowMs = this.#now().getTime();
    if (Math.abs(nowMs - this.#since) >= WINDOW_MS) this.#begin(nowMs);
    const own = this.#byAddress.get(address) ?? 0;
    if (own >= boundOf(address) || this.#all >= OF_ALL) {
      const seconds = Math.max(1, Math.ceil((this.#since + WINDOW_MS - nowMs) / 1_000));
      throw new Problem('too_many', `too many codes that are none; go on in ${seconds} s`, { retryAfterS: seconds });
    }
    this.#byAddress.set(address, own + 1);
    this.#all += 1;
  }

  /** It was right. */
  giveBack(address: string): void {
    const own = this.#byAddress.get(address) ?? 0;
    if (own === 0) return;
    this.#byAddress.set(address, own - 1);
    this.#all -= 1;
  }

  #begin(nowMs: number): void {
    this.#since = nowMs;
    this.#all = 0;
    this.#byAddress.clear();
  }
}
