import { execFile } from 'node:child_process';
import { mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { orpToEh } from '../src/rules/questions/orp-to-eh.ts';

const run = promisify(execFile);
const ROOT = path.resolve(import.meta.dirname, '..');
const BUILD_MS = 240_000;

const ASK = `
import { CATALOG_SECTIONS } from 'wellround/catalog/catalog-sections';
import { orpToEh } from 'wellround/rules/questions/orp-to-eh';
import { questionNamed } from 'wellround/rules/questions/question-list';
const given = JSON.parse(process.argv[2]);
const answer = orpToEh.answer(orpToEh.input.parse(given));
console.log(JSON.stringify({ answer, same: questionNamed('orp-to-eh') === orpToEh, sections: CATALOG_SECTIONS.length }));
`;

let folder: string;

/** The package as somebody has it who imports from it: what is built, its package.json, its dependencies. */
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'wellround-import-'));
  const compiler = path.join(ROOT, 'node_modules/typescript/bin/tsc');
  const project = path.join(ROOT, '.config/tsconfig.build.json');
  await run(process.execPath, [compiler, '-p', project, '--outDir', path.join(folder, 'dist')], { cwd: ROOT });
  await symlink(path.join(ROOT, 'package.json'), path.join(folder, 'package.json'));
  await symlink(path.join(ROOT, 'node_modules'), path.join(folder, 'node_modules'));
  await writeFile(path.join(folder, 'ask.mjs'), ASK);
}, BUILD_MS);
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('a phone that imports from the package', () => {
  it('asks the same questions without a server, and has the same catalog', async () => {
    const given = { orpMv: '150', temperatureC: '12.0', referenceElectrode: 'silver-chloride-3-5-molar' };
    const { stdout } = await run(process.execPath, ['ask.mjs', JSON.stringify(given)], { cwd: folder });
    const { answer, same, sections } = JSON.parse(stdout);
    expect(answer).toEqual(orpToEh.answer(orpToEh.input.parse(given)));
    expect(same).toBe(true);
    expect(sections).toBeGreaterThan(10);
  });
});
