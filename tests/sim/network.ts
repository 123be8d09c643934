import type { FetchLike } from '../../src/client/fetch-like.ts';
import type { Actor } from '../../src/writes/batch.ts';
import type { Chance } from './chance.ts';
import type { Asked, Said } from './model/door.ts';
import type { ModelServer } from './model/server.ts';
import type { Timeline } from './timeline.ts';

const FAULTS = [
  'request lost',
  'answer lost',
  'answer lost',
  'request cut',
  'answer cut',
  'answer cut',
  'twice',
  'late',
  'busy',
  'gateway',
] as const;
type Fate = (typeof FAULTS)[number] | 'well';

/** After so long a phone gives a request up. */
const PATIENCE_MS = 30_000;

interface Waiting {
  readonly actor: Actor;
  readonly asked: Asked;
  readonly done: (said: Said) => void;
}

export interface NetworkSeams {
  /** Looks at every answer as it leaves the server. */
  readonly left?: (actor: Actor, asked: Asked, said: Said) => void;
  /** Whether pushes that wait for a process are taken up together; they are if missing. */
  readonly together?: boolean;
}

const BUSY: Said = { status: 503, text: '{"code":"busy","detail":"too much at once"}', retryAfter: '1' };
const GATEWAY: Said = { status: 502, text: '<html>bad gateway</html>', retryAfter: null };

function cut(text: string, chance: Chance): string {
  return text.slice(0, chance.below(text.length));
}

/** What lies between phones and server: it loses, delays, repeats, reorders and cuts. */
export class Network {
  /** Probability that a request meets a fault. */
  faults: number;
  /** Probability that the answer to a push is lost besides. */
  unheard = 0;
  readonly #timeline: Timeline;
  readonly #server: ModelServer;
  readonly #chance: Chance;
  readonly #seams: NetworkSeams;
  /** Pushes that wait for a process to have time. */
  readonly #inboxes = new Map<number, Waiting[]>();

  constructor(timeline: Timeline, server: ModelServer, chance: Chance, faults: number, seams: NetworkSeams) {
    this.#timeline = timeline;
    this.#server = server;
    this.#chance = chance;
    this.faults = faults;
    this.#seams = seams;
  }

  /** The line of one phone; `isAlive` tells whether anybody is there to hear. */
  lineOf(actor: Actor, isAlive: () => boolean): FetchLike {
    return (url, { method, body }) => {
      const asked: Asked = { method, path: url.slice(url.indexOf('/sync/') + 6), body: body ?? null };
      return new Promise((resolve, reject) => {
        const answered = ({ status, text, retryAfter }: Said) => {
          if (!isAlive()) return;
          const get = (name: string) => (name === 'retry-after' ? retryAfter : null);
          resolve({ status, headers: { get }, text: async () => text });
        };
        const lost = () => isAlive() && reject(new Error('the line was lost'));
        if (isAlive()) this.#carry(actor, asked, answered, lost);
      });
    };
  }

  #carry(actor: Actor, asked: Asked, answered: (said: Said) => void, lost: () => void): void {
    const fate = this.#fate(asked);
    const there = this.#delay();
    if (fate === 'busy' || fate === 'gateway') {
      this.#timeline.after(there, () => answered(fate === 'busy' ? BUSY : GATEWAY));
      return;
    }
    if (fate === 'request lost' || fate === 'late') this.#timeline.after(PATIENCE_MS, lost);
    if (fate === 'request lost') return;
    const arriving = fate === 'late' ? PATIENCE_MS + this.#chance.below(600_000) : there;
    const sent =
      fate === 'request cut' && asked.body !== null ? { ...asked, body: cut(asked.body, this.#chance) } : asked;
    this.#arrive(arriving, actor, sent, (said) => this.#sendBack(fate, said, answered, lost));
    if (fate === 'twice') this.#arrive(there + this.#chance.below(300_000), actor, asked, () => undefined);
  }

  #sendBack(fate: Fate, said: Said, answered: (said: Said) => void, lost: () => void): void {
    if (fate === 'late') return;
    const back = this.#delay();
    if (fate === 'answer lost') this.#timeline.after(PATIENCE_MS, lost);
    else if (fate === 'answer cut') {
      const text = cut(said.text, this.#chance);
      this.#timeline.after(back, () => answered({ ...said, text }));
    } else this.#timeline.after(back, () => answered(said));
  }

  #arrive(ms: number, actor: Actor, asked: Asked, done: (said: Said) => void): void {
    const process = this.#chance.below(this.#server.processes.length);
    this.#timeline.after(ms, async () => {
      const told = (said: Said) => {
        this.#seams.left?.(actor, asked, said);
        done(said);
      };
      if (asked.method === 'GET') told(await this.#server.ask(process, actor, asked));
      else this.#queue(process, { actor, asked, done: told });
    });
  }

  /** Pushes that come while a process has no time are taken up together. */
  #queue(process: number, waiting: Waiting): void {
    const inbox = this.#inboxes.get(process) ?? [];
    this.#inboxes.set(process, inbox);
    inbox.push(waiting);
    const alone = this.#seams.together === false;
    if (inbox.length === 1) this.#timeline.after(alone ? 0 : this.#chance.below(400), () => this.#work(process));
  }

  async #work(process: number): Promise<void> {
    const inbox = this.#inboxes.get(process) ?? [];
    this.#inboxes.delete(process);
    if (this.#seams.together === false) {
      for (const { actor, asked, done } of inbox) done(await this.#server.ask(process, actor, asked));
      return;
    }
    const said = await Promise.all(inbox.map(({ actor, asked }) => this.#server.ask(process, actor, asked)));
    for (const [index, { done }] of inbox.entries()) {
      const answer = said[index];
      if (answer) done(answer);
    }
  }

  #fate({ method }: Asked): Fate {
    if (this.unheard > 0 && method === 'POST' && this.#chance.yes(this.unheard)) return 'answer lost';
    return this.faults > 0 && this.#chance.yes(this.faults) ? this.#chance.pick(FAULTS) : 'well';
  }

  #delay(): number {
    return this.faults > 0 && this.#chance.yes(0.2) ? this.#chance.below(25_000) : this.#chance.between(20, 400);
  }
}
