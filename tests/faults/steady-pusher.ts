import { v7 } from 'uuid';

interface Line {
  readonly id: string;
  readonly name: string;
  readonly text: string;
}

/** A batch that was made once and is sent, byte for byte the same, until it is answered. */
interface Sent {
  readonly first: number;
  readonly lines: readonly Line[];
  readonly body: string;
}

interface Answer {
  readonly lastMutation: number;
  readonly outcomes: readonly unknown[];
}

/** A client that pushes batch after batch, and remembers what it was told. */
export class SteadyPusher {
  readonly client = v7();
  /** The outcome of every acknowledged mutation, by the id of its record. */
  readonly acknowledged = new Map<string, { readonly name: string; readonly outcome: string }>();
  readonly #secret: string;
  readonly #name: string;
  readonly #all: Sent[] = [];
  #next = 1;
  #pending: Sent | null = null;

  constructor(name: string, secret: string) {
    this.#name = name;
    this.#secret = secret;
  }

  #make(count: number): Sent {
    const first = this.#next;
    const lines = Array.from({ length: count }, (_, at): Line => {
      const [id, name] = [v7(), `${this.#name} ${first + at}`];
      return {
        id,
        name,
        text: JSON.stringify({ mutationId: first + at, verb: 'record', kind: 'crew', id, set: { name } }),
      };
    });
    const header = JSON.stringify({ client: this.client, schemaVersion: 1, first, count });
    this.#next += count;
    const sent = { first, lines, body: `${[header, ...lines.map(({ text }) => text)].join('\n')}\n` };
    this.#all.push(sent);
    return sent;
  }

  async #push(url: string, body: string): Promise<Answer | null> {
    const headers = { authorization: `Bearer ${this.#secret}`, 'content-type': 'application/x-ndjson' };
    try {
      const response = await fetch(`${url}/v1/sync/push`, { method: 'POST', headers, body });
      const answer = await response.text();
      if (response.status === 200) return JSON.parse(answer) as Answer;
      if (response.status === 503) return null;
      throw new RangeError(`a push was answered ${response.status}: ${answer}`);
    } catch (error) {
      // an answer that says no is a fault; one that did not come says nothing
      if (error instanceof RangeError) throw error;
      return null;
    }
  }

  #note({ lines }: Sent, { outcomes }: Answer): void {
    for (const [at, { id, name }] of lines.entries()) {
      this.acknowledged.set(id, { name, outcome: JSON.stringify(outcomes[at]) });
    }
  }

  /** Pushes until no answer comes. */
  async pushUntilLost(url: string, perBatch: number): Promise<void> {
    for (;;) {
      this.#pending ??= this.#make(perBatch);
      const answer = await this.#push(url, this.#pending.body);
      if (answer === null) return;
      this.#note(this.#pending, answer);
      this.#pending = null;
    }
  }

  /** Sends again everything that was ever sent. @returns what was answered otherwise than before */
  async resendAll(url: string): Promise<string[]> {
    const differing: string[] = [];
    for (const sent of this.#all) {
      const answer = await this.#push(url, sent.body);
      if (answer === null) throw new Error('a server that runs does not answer');
      const before = sent.lines.map(({ id }) => this.acknowledged.get(id)?.outcome);
      this.#note(sent, answer);
      const after = sent.lines.map(({ id }) => this.acknowledged.get(id)?.outcome);
      differing.push(
        ...after.flatMap((now, at) =>
          before[at] !== undefined && before[at] !== now ? [`${before[at]} -> ${now}`] : [],
        ),
      );
    }
    this.#pending = null;
    return differing;
  }
}
