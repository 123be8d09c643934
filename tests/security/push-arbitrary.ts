import fc from 'fast-check';
import { v7 } from 'uuid';
import { KINDS } from '../../src/protocol/kinds-by-name.ts';
import { operationsOf } from './api-document.ts';
import { spoil } from './nasty.ts';
import { type Ground, making } from './request-arbitrary.ts';
import { arbitraryOf } from './schema-arbitrary.ts';

/** A line of a push, as it goes, and the fields that it sets where it went as it was made. */
export interface PushLine {
  readonly bytes: Buffer;
  readonly kind: string;
  readonly id: string;
  readonly set: Readonly<Record<string, unknown>> | null;
}

const MANNER = ['id', 'reason', 'by', 'requires', 'clock'];

function parts(body: object): [set: object, manner: object] {
  const entries = Object.entries(body).filter(([name]) => name !== 'id');
  const inManner = (name: string) => MANNER.includes(name);
  return [
    Object.fromEntries(entries.filter(([name]) => !inManner(name))),
    Object.fromEntries(entries.filter(([name]) => inManner(name))),
  ];
}

/** Line ends cut a push: within a line there are none. */
function oneLine(line: string | Buffer): Buffer {
  const bytes = Buffer.from(line as string);
  return Buffer.from(bytes.filter((byte) => byte !== 0x0a));
}

type Fields = Readonly<Record<string, unknown>>;

/** Fields that no version has had so far, some under names that no field can have. */
const beyond: fc.Arbitrary<Fields> = fc.dictionary(
  fc.constantFrom('weather', 'colourOfLid', 'later2', 'a b', 'constructor', 'Unheard', '__proto__'),
  fc.jsonValue({ maxDepth: 3 }),
  { maxKeys: 3 },
);

/** A new record of any kind that is written by people, as a line with a number and maybe with fields besides. */
export function linesOf(ground: Ground): fc.Arbitrary<(mutationId: number, more?: Fields) => PushLine> {
  const recording = operationsOf(ground.document).filter(({ method }) => method === 'POST');
  const written = KINDS.flatMap(({ name, plural }) => {
    const body = recording.find(({ path }) => path === `/v1/${plural}`)?.body;
    return body && name !== 'firm' ? [{ name, body }] : [];
  });
  return fc.constantFrom(...written).chain(({ name, body }) =>
    fc
      .tuple(arbitraryOf(body, '', making(ground)), spoil)
      .map(([made, { what, spoil: act }]) => (mutationId: number, more: Fields = {}): PushLine => {
        const [own, manner] = parts(made as object);
        const set = { ...own, ...more };
        const id = v7();
        const mutation = { mutationId, verb: 'record', kind: name, id, set, ...manner };
        const plain = what === 'as it is' ? (set as Record<string, unknown>) : null;
        return { bytes: oneLine(act(JSON.stringify(mutation), mutation)), kind: name, id, set: plain };
      }),
  );
}

export interface Push {
  readonly body: Buffer;
  readonly lines: readonly PushLine[];
  /** The header went as it was made, so that the push is taken. */
  readonly whole: boolean;
  readonly what: string;
}

const header = (count: number, schemaVersion: number) => ({ client: v7(), schemaVersion, first: 1, count });
const NEWER = 1_000_000;

/** Pushes whose lines may be spoilt, and seldom the header. */
export function pushesOf(ground: Ground): fc.Arbitrary<Push> {
  const asItIs = { what: 'as it is', spoil: (text: string): string | Buffer => text };
  const ofHeader = fc.oneof({ weight: 4, arbitrary: fc.constant(asItIs) }, { weight: 1, arbitrary: spoil });
  return fc
    .tuple(fc.array(fc.tuple(linesOf(ground), beyond), { minLength: 1, maxLength: 4 }), ofHeader, fc.boolean())
    .map(([made, { what, spoil: act }, newer]) => {
      const lines = made.map(([line, more], at) => line(at + 1, newer ? more : {}));
      const first = header(lines.length, newer ? NEWER : 1);
      const parts = [Buffer.from(act(JSON.stringify(first), first) as string), ...lines.map(({ bytes }) => bytes)];
      const body = Buffer.concat(parts.flatMap((part) => [part, Buffer.from('\n')]));
      return { body, lines, whole: what === 'as it is', what };
    });
}
