import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { LENSES } from '../../../src/protocol/lenses/lenses.ts';
import { MIN_SCHEMA_VERSION, SCHEMA_VERSION } from '../../../src/protocol/version.ts';
import { notAdditive, notAdditiveForReaders } from './not-additive.ts';
import { type Recorded, record, recorded, renewRules } from './wire-fixture.ts';
import { WIRE } from './wire-schemas.ts';
import { shapeHash, UNTRACED, type WireShape, wireShape } from './wire-shape.ts';

const TODAY = wireShape(WIRE);

function fixtureOf(version: number): Recorded {
  if (process.env.UPDATE_FIXTURES === '1') record(version, TODAY);
  const found = recorded(version);
  if (found) return found;
  const write = 'UPDATE_FIXTURES=1 npx vitest run --config .config/vitest.config.ts tests/protocol/wire/wire.test.ts';
  throw new Error(`tests/fixtures/wire/version-${version}.ndjson is missing. It is written by\n${write}`);
}

function changed(was: WireShape, is: WireShape): string[] {
  const shapes = [...new Set([...Object.keys(was), ...Object.keys(is)])].sort();
  return shapes.filter((name) => JSON.stringify(was[name]) !== JSON.stringify(is[name]));
}

const WHAT_TO_DO = `The shapes on the wire changed, and phones are out there that were built with the former ones.
1. Raise SCHEMA_VERSION in src/protocol/version.ts, with a line that says what changed.
2. Where it is more than an addition, put a lens for the step into src/protocol/lenses.
3. Run this test with UPDATE_FIXTURES=1, which writes the fixture of the new version, and format tests/fixtures.
Only where the version has never left this working copy: delete its fixture and write it anew.
A rule given by .refine counts as well, with all that it calls: phones keep lines that were good by the former one. Where
it only reads otherwise, and takes what it took, UPDATE_FIXTURES=rules writes the rules of this version anew.
Changed: `;

const WHERE_RULES_ARE = `A shape has ${UNTRACED}: what it asks for could change without a new version.
Give it by .refine, in a file under src/protocol, as a function that is written there or imported by name.`;

describe('the version on the wire', () => {
  it('[V1] every version has a line that says what changed', () => {
    const source = readFileSync(path.join(import.meta.dirname, '../../../src/protocol/version.ts'), 'utf8');
    const said = [...source.matchAll(/^ \* (\d+) {2}\S/gm)].map(([, number]) => Number(number));
    expect(said).toEqual(Array.from({ length: SCHEMA_VERSION }, (_, at) => at + 1));
  });

  it('[V1] what the shapes ask for by functions is on record with them', () => {
    const untraced = Object.entries(TODAY).filter(([, shape]) => JSON.stringify(shape).includes(UNTRACED));
    expect(
      untraced.map(([name]) => name),
      WHERE_RULES_ARE,
    ).toEqual([]);
    expect(JSON.stringify(TODAY['kind analyte-suite'])).toContain('"isCasNumber #');
  });

  it('[V1] the shapes on the wire are those that phones of this version were built with', () => {
    if (process.env.UPDATE_FIXTURES === 'rules') renewRules(SCHEMA_VERSION, TODAY);
    const { hash, shape, version } = fixtureOf(SCHEMA_VERSION);
    expect(version).toBe(SCHEMA_VERSION);
    expect(hash, 'the fixture itself was changed by hand').toBe(shapeHash(shape));
    expect(shapeHash(TODAY), WHAT_TO_DO + changed(shape, TODAY).join(', ')).toBe(hash);
  });

  const steps = Array.from({ length: SCHEMA_VERSION - MIN_SCHEMA_VERSION }, (_, at) => MIN_SCHEMA_VERSION + at);

  it.each(steps)('[V2] the step from version %i only adds, or has a lens for what is sent', (from) => {
    const [was, is] = [fixtureOf(from).shape, fixtureOf(from + 1).shape];
    const isLifted = LENSES.some((lens) => lens.from === from && !lens.onlyAdds);
    expect(isLifted ? notAdditiveForReaders(was, is) : notAdditive(was, is)).toEqual([]);
  });
});
