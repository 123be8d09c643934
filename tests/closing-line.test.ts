import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';

const root = path.join(import.meta.dirname, '..');
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), 'wellround-closing-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const lastLine = (text: string): string | undefined => text.trimEnd().split('\n').at(-1);

function runTests(files: Record<string, string>): { line: string | undefined; status: number | null } {
  const reporter = path.join(root, '.config/closing-line-reporter.ts');
  const config = { test: { globals: true, include: ['*.test.js'], reporters: ['default', reporter] } };
  writeFileSync(path.join(folder, 'vitest.config.js'), `export default ${JSON.stringify(config)}`);
  for (const [name, text] of Object.entries(files)) writeFileSync(path.join(folder, name), text);
  const vitest = path.join(root, 'node_modules/vitest/vitest.mjs');
  const run = spawnSync(process.execPath, [vitest, 'run', '--root', folder], { encoding: 'utf8' });
  return { line: lastLine(run.stdout), status: run.status };
}

describe('the last line of a test run', () => {
  test('counts what passed', () => {
    const run = runTests({ 'a.test.js': "test('x', () => {}); describe('d', () => test('y', () => {}));" });
    expect(run).toEqual({ line: '2 passed, 0 failed', status: 0 });
  });

  test('counts what failed and what was skipped', () => {
    const text = "test('x', () => {}); test.skip('y', () => {}); test('z', () => { throw new Error('no'); });";
    expect(runTests({ 'a.test.js': text })).toEqual({ line: '1 passed, 1 failed, 1 skipped', status: 1 });
  });

  test('counts a file that could not be loaded, and an error outside every test', () => {
    const outside =
      "test('x', () => { setTimeout(() => { throw new Error('late'); }); return new Promise((r) => setTimeout(r, 50)); });";
    const run = runTests({ 'a.test.js': "import './nothing.js';", 'b.test.js': outside });
    expect(run).toEqual({ line: '1 passed, 2 failed', status: 1 });
  });
});

/** Stands in for npm: each step ends as it is told, and the tests print what they are told. */
const fakeNpm = `#!/bin/sh
case "$*" in
  ci*) exit "$FAKE_CI" ;;
  "run check") exit "$FAKE_CHECK" ;;
  test) echo "$FAKE_LINE"; echo "and more"; exit "$FAKE_TEST" ;;
esac
exit 99
`;

function runAll(
  ci: number,
  check: number,
  tests: number,
  line: string,
): { line: string | undefined; status: number | null } {
  cpSync(path.join(root, '.ci/run'), path.join(folder, '.ci/run'));
  mkdirSync(path.join(folder, 'bin'));
  writeFileSync(path.join(folder, 'bin/npm'), fakeNpm);
  chmodSync(path.join(folder, 'bin/npm'), 0o755);
  const run = spawnSync(path.join(folder, '.ci/run'), [], {
    encoding: 'utf8',
    env: {
      PATH: `${path.join(folder, 'bin')}:${process.env.PATH}`,
      FAKE_CI: String(ci),
      FAKE_CHECK: String(check),
      FAKE_TEST: String(tests),
      FAKE_LINE: line,
    },
  });
  return { line: lastLine(run.stdout), status: run.status };
}

describe('.ci/run ends with that line and fails when anything failed', () => {
  test.each([
    ['all is well', 0, 0, 0, '7 passed, 0 failed, 2 skipped', '7 passed, 0 failed, 2 skipped', 0],
    ['a test failed', 0, 0, 1, '6 passed, 1 failed', '6 passed, 1 failed', 1],
    ['a check failed', 0, 1, 0, '7 passed, 0 failed', '7 passed, 1 failed', 1],
    ['a check and a test failed', 0, 2, 1, '6 passed, 1 failed', '6 passed, 2 failed', 1],
    ['the runner failed after counting', 0, 0, 1, '7 passed, 0 failed', '7 passed, 1 failed', 1],
    ['the runner broke', 0, 0, 1, 'Segmentation fault', '0 passed, 1 failed', 1],
    ['the install failed', 1, 0, 0, '7 passed, 0 failed', '0 passed, 1 failed', 1],
  ])('%s', (_, ci, check, tests, printed, line, status) => {
    expect(runAll(ci, check, tests, printed)).toEqual({ line, status });
  });
});
