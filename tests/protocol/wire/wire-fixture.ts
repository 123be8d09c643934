import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { type Shape, shapeHash, type WireShape } from './wire-shape.ts';

/** The shapes on the wire as a version had them: a line that names the version and the hash, then one shape a line. */
export interface Recorded {
  readonly version: number;
  readonly hash: string;
  readonly shape: WireShape;
}

const FOLDER = path.join(import.meta.dirname, '../../fixtures/wire');

function fileOf(version: number): string {
  return path.join(FOLDER, `version-${version}.ndjson`);
}

export function recorded(version: number): Recorded | null {
  if (!existsSync(fileOf(version))) return null;
  const [head = '', ...lines] = readFileSync(fileOf(version), 'utf8').trimEnd().split('\n');
  const shapes = lines.map((line) => JSON.parse(line) as Shape & { readonly name: string });
  const shape = Object.fromEntries(
    shapes.map(({ name, direction, schema }): [string, Shape] => [name, { direction, schema }]),
  );
  return { ...(JSON.parse(head) as { version: number; hash: string }), shape };
}

function write(version: number, shape: WireShape): void {
  const lines = Object.entries(shape).map(([name, one]) => ({ name, ...one }));
  const texts = [{ version, hash: shapeHash(shape) }, ...lines].map((line) => JSON.stringify(line));
  writeFileSync(fileOf(version), `${texts.join('\n')}\n`);
}

/** Only a version that has none yet gets its fixture: what phones were built with does not change any more. */
export function record(version: number, shape: WireShape): void {
  if (!recorded(version)) write(version, shape);
}

function withoutRules(shape: WireShape): WireShape {
  const isRules = (name: string, value: unknown) => name === 'rules' && Array.isArray(value);
  return JSON.parse(JSON.stringify(shape, (name, value) => (isRules(name, value) ? undefined : value))) as WireShape;
}

/** Where rules read otherwise and take what they took: they are written anew, unless anything else is another. */
export function renewRules(version: number, shape: WireShape): void {
  const was = recorded(version)?.shape;
  if (was && shapeHash(withoutRules(was)) === shapeHash(withoutRules(shape))) write(version, shape);
}
