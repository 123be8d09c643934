import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import ours from '../../../package.json' with { type: 'json' };
import wanted from './packages/package.json' with { type: 'json' };

interface Locked {
  readonly version?: string;
  readonly integrity?: string;
}

describe('the packages of the peer', () => {
  const text = readFileSync(path.join(import.meta.dirname, 'packages/package-lock.json'), 'utf8');
  const { packages } = JSON.parse(text) as { packages: Record<string, Locked> };
  const locked = Object.entries(packages).filter(([name]) => name !== '');

  it('are locked, each to what it contained when they were chosen', () => {
    expect(locked.length).toBeGreaterThan(300);
    expect(locked.filter(([, one]) => !one.version || !one.integrity?.startsWith('sha512-'))).toEqual([]);
    expect(packages['node_modules/pouchdb-server']?.version).toBe(wanted.dependencies['pouchdb-server']);
  });

  it('are none of ours', () => {
    const own = Object.keys({ ...ours.dependencies, ...ours.devDependencies });
    expect(own.filter((name) => /pouch|leveldown/.test(name))).toEqual([]);
  });
});
